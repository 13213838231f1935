//! Units as printed, and what each is in the base unit of the gears.

use crate::answer::Unit;
use crate::gears::ask;
use crate::number;

/// Every unit, in the order of the enum.
pub(super) const ALL: [Unit; 11] = [
    Unit::Turns,
    Unit::Rpm,
    Unit::Teeth,
    Unit::Starts,
    Unit::Stages,
    Unit::Millimetres,
    Unit::Centimetres,
    Unit::Metres,
    Unit::Newtons,
    Unit::NewtonCentimetres,
    Unit::NewtonMetres,
];

impl Unit {
    /// The unit as printed beside the answer space and spelt in banks.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Turns => "turns",
            Self::Rpm => "rpm",
            Self::Teeth => "teeth",
            Self::Starts => "starts",
            Self::Stages => "stages",
            Self::Millimetres => "mm",
            Self::Centimetres => "cm",
            Self::Metres => "m",
            Self::Newtons => "N",
            Self::NewtonCentimetres => "N cm",
            Self::NewtonMetres => "N m",
        }
    }

    /// The unit as written after exactly one.
    #[must_use]
    pub fn text_for_one(self) -> &'static str {
        match self {
            Self::Turns => "turn",
            Self::Teeth => "tooth",
            Self::Starts => "start",
            Self::Stages => "stage",
            Self::Rpm
            | Self::Millimetres
            | Self::Centimetres
            | Self::Metres
            | Self::Newtons
            | Self::NewtonCentimetres
            | Self::NewtonMetres => self.text(),
        }
    }

    /// Returns the unit that banks spell so, such as `N cm`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        ALL.into_iter().find(|unit| unit.text() == text)
    }

    /// Returns the unit's base unit, and how many of those one of it is.
    #[must_use]
    pub fn in_base(self) -> (ask::Unit, number::Number) {
        let (base, scale) = match self {
            Self::Turns => (ask::Unit::Turns, 1),
            Self::Rpm => (ask::Unit::Rpm, 1),
            Self::Teeth => (ask::Unit::Teeth, 1),
            Self::Starts => (ask::Unit::Starts, 1),
            Self::Stages => (ask::Unit::Stages, 1),
            Self::Millimetres => (ask::Unit::Millimetres, 1),
            Self::Centimetres => (ask::Unit::Millimetres, 10),
            Self::Metres => (ask::Unit::Millimetres, 1000),
            Self::Newtons => (ask::Unit::Newtons, 1),
            Self::NewtonCentimetres => (ask::Unit::NewtonCentimetres, 1),
            Self::NewtonMetres => (ask::Unit::NewtonCentimetres, 100),
        };
        (base, number::Number::whole(scale))
    }

    /// Whether it counts whole things, so that rounding makes no sense.
    #[must_use]
    pub fn is_count(self) -> bool {
        match self {
            Self::Teeth | Self::Starts | Self::Stages => true,
            Self::Turns
            | Self::Rpm
            | Self::Millimetres
            | Self::Centimetres
            | Self::Metres
            | Self::Newtons
            | Self::NewtonCentimetres
            | Self::NewtonMetres => false,
        }
    }
}

/// How many of `to` one of `from` is, where the two are of one kind.
pub(super) fn conversion(from: Unit, to: Unit) -> Option<number::Number> {
    let ((from_base, from_scale), (to_base, to_scale)) = (from.in_base(), to.in_base());
    (from_base == to_base)
        .then(|| from_scale.divided_by(to_scale).ok())
        .flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_is_read_back_as_it_is_printed() {
        for unit in ALL {
            assert_eq!(Unit::parse(unit.text()), Some(unit));
        }
        assert_eq!(Unit::parse("furlongs"), None);
    }

    #[test]
    fn only_units_of_one_kind_convert() {
        let scale = |from, to| conversion(from, to).map(|number| number.to_string());
        assert_eq!(
            scale(Unit::Centimetres, Unit::Millimetres),
            Some("10".to_owned())
        );
        assert_eq!(
            scale(Unit::NewtonCentimetres, Unit::NewtonMetres),
            Some("1/100".to_owned())
        );
        assert_eq!(scale(Unit::Turns, Unit::Teeth), None);
        assert_eq!(scale(Unit::Newtons, Unit::NewtonMetres), None);
    }
}
