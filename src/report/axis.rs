//! Where a value lies along a chart.

use crate::report::table;

/// How much of the width is left free at each end, in hundredths: half a dot.
const FREE: f64 = 2.0;

/// An axis with its marks.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Axis {
    low: f64,
    high: f64,
    /// Where a line stands with its number.
    pub(super) ticks: Vec<f64>,
}

impl Axis {
    /// Returns an axis on which all figures lie: of shares from 0 to 100 %.
    pub(super) fn of(unit: table::Unit, figures: &[&table::Figure]) -> Self {
        let shares = (0.0, 100.0);
        let ends = figures.iter().flat_map(|figure| {
            let (low, high) = figure.interval.unwrap_or((figure.value, figure.value));
            [low, high, figure.value]
        });
        let found = ends.fold(None, |found: Option<(f64, f64)>, end| {
            Some(found.map_or((end, end), |(low, high)| (low.min(end), high.max(end))))
        });
        let (low, high) = found.unwrap_or(shares);
        let (low, high) = match unit {
            table::Unit::Percent => shares,
            table::Unit::Points | table::Unit::Logits => (low.min(0.0), high.max(0.0)),
            table::Unit::Count | table::Unit::Index | table::Unit::Words => {
                (low.min(0.0), high.max(1.0))
            }
        };
        Self::between(low, high)
    }

    /// An axis that holds both ends, with marks at round numbers.
    fn between(low: f64, high: f64) -> Self {
        let step = step(high - low);
        let first = libm::floor(low / step);
        let last = libm::ceil(high / step);
        let mut ticks = Vec::new();
        let mut at = first;
        while at <= last {
            ticks.push(at * step);
            at += 1.0;
        }
        Self {
            low: first * step,
            high: last * step,
            ticks,
        }
    }

    /// Returns where a value lies, in hundredths of the width.
    pub(super) fn place(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        FREE + (100.0 - 2.0 * FREE) * share.clamp(0.0, 1.0)
    }
}

/// The least round step that makes no more than six marks over a span.
fn step(span: f64) -> f64 {
    let mut step = 0.01;
    loop {
        for times in [1.0, 2.0, 2.5, 5.0] {
            if span <= 5.0 * step * times {
                return step * times;
            }
        }
        // No span of figures is endless; a hundred million is far beyond any.
        if step > 1e8 {
            return span.max(step);
        }
        step *= 10.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_stand_at_round_numbers_and_hold_both_ends() {
        for (low, high, ticks) in [
            (0.0, 100.0, vec![0.0, 20.0, 40.0, 60.0, 80.0, 100.0]),
            (-7.0, 12.0, vec![-10.0, -5.0, 0.0, 5.0, 10.0, 15.0]),
            (0.0, 12.0, vec![0.0, 2.5, 5.0, 7.5, 10.0, 12.5]),
            (0.0, 0.0, vec![0.0]),
        ] {
            assert_eq!(Axis::between(low, high).ticks, ticks, "{low} to {high}");
        }
    }

    #[test]
    fn the_ends_leave_room_for_half_a_dot() {
        let axis = Axis::between(0.0, 100.0);
        let places = [0.0, 50.0, 100.0, 130.0].map(|value| axis.place(value));
        assert_eq!(
            places.map(|it| format!("{it:.1}")),
            ["2.0", "50.0", "98.0", "98.0"]
        );
    }
}
