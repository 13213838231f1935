//! Wrong diameters, and where other wrong sizes are worked out.

use crate::gears::ask;
use crate::gears::mechanism;
use crate::misconception;
use crate::misconception::list;
use crate::misconception::path;
use crate::misconception::spacing;
use crate::misconception::travel;
use crate::number;

/// Adds wrong answers to a question of size.
pub(super) fn predict(
    mechanism: &mechanism::Mechanism,
    ask: &ask::Ask,
    found: &mut misconception::Found,
) {
    if let ask::Ask::CentreDistance(first, second) = ask {
        spacing::predict_distance(mechanism, *first, *second, found);
    } else if let ask::Ask::PitchDiameter(part) = ask {
        predict_diameters(mechanism, *part, "0", found);
    } else if let ask::Ask::TipDiameter(part) = ask {
        predict_diameters(mechanism, *part, "2", found);
    } else if let ask::Ask::RootDiameter(part) = ask {
        predict_diameters(mechanism, *part, "-2.5", found);
    } else if let ask::Ask::ToothSize(part) = ask {
        spacing::predict_tooth_size(mechanism, *part, found);
        travel::predict_tooth_size(mechanism, *part, found);
    }
}

type Length = Result<number::Number, number::NumberError>;

fn add(
    found: &mut misconception::Found,
    misconception: &'static misconception::Misconception,
    length: Length,
) {
    found.quantity(
        misconception,
        length.ok().map(number::Value::from),
        ask::Unit::Millimetres,
    );
}

fn two() -> number::Number {
    number::Number::whole(2)
}

/// Adds wrong diameters of the part, and the right one of the gear it meshes with.
fn predict_diameters(
    mechanism: &mechanism::Mechanism,
    part: mechanism::PartId,
    extra: &str,
    found: &mut misconception::Found,
) {
    if let Some(diameter) = Diameter::of(mechanism, part, extra) {
        predict_diameter(&diameter, found);
    }
    for other in mechanism.joints.iter().filter_map(|it| it.partner(part)) {
        if let Some(diameter) = Diameter::of(mechanism, other, extra) {
            add(found, &list::trains::OTHER_GEAR, diameter.right());
        }
    }
}

/// A diameter: tooth size × (teeth + extra).
struct Diameter {
    tooth_size: number::Number,
    teeth: number::Number,
    extra: number::Number,
}

impl Diameter {
    fn of(mechanism: &mechanism::Mechanism, part: mechanism::PartId, extra: &str) -> Option<Self> {
        let extra = extra.parse::<number::Number>().ok()?;
        Some(Self {
            tooth_size: path::part(mechanism, part)?.tooth_size_mm?,
            teeth: path::size(mechanism, part)?,
            // The teeth of a ring stand inside: its tips lie further in.
            extra: if path::is_ring(mechanism, part) {
                extra.negated()
            } else {
                extra
            },
        })
    }

    fn right(&self) -> Length {
        self.teeth
            .plus(self.extra)
            .and_then(|teeth| teeth.times(self.tooth_size))
    }
}

fn predict_diameter(diameter: &Diameter, found: &mut misconception::Found) {
    let right = diameter.right();
    let &Diameter {
        tooth_size,
        teeth,
        extra,
    } = diameter;
    let pitch = tooth_size.times(teeth);
    add(
        found,
        &list::circles::RADIUS_FOR_DIAMETER,
        right.and_then(|right| right.divided_by(two())),
    );
    if extra.is_zero() {
        let tips = teeth.plus(two()).and_then(|teeth| teeth.times(tooth_size));
        add(found, &list::circles::OUTSIDE_DIAMETER, tips);
        add(
            found,
            &list::other::DIVIDES_BY_TOOTH_SIZE,
            teeth.divided_by(tooth_size),
        );
        return;
    }
    add(found, &list::other::PITCH_FOR_OTHER_DIAMETER, pitch.clone());
    add(
        found,
        &list::other::ONE_SIDE_ONLY,
        extra
            .divided_by(two())
            .and_then(|extra| teeth.plus(extra))
            .and_then(|teeth| teeth.times(tooth_size)),
    );
    if tooth_size != number::Number::ONE {
        add(
            found,
            &list::other::TEETH_AND_MILLIMETRES_MIXED,
            pitch.and_then(|pitch| pitch.plus(extra)),
        );
    }
}
