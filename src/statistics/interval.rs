//! Where a figure may as well lie: intervals at 95 %, and estimates with their
//! standard errors.

use crate::statistics;

/// The 97.5 % point of the normal distribution, which leaves 2.5 % on each side.
///
/// Source: any table of the normal distribution; the test holds it against the
/// quantile of a statistics crate.
pub const NORMAL_975: f64 = 1.959_963_984_540_054;

/// Returns the point of the normal distribution that stands in the place of
/// [`NORMAL_975`] where so many comparisons are made together.
///
/// Source: Bonferroni's inequality as used by Dunn (1961), Journal of the American
/// Statistical Association 56, 52-64 (from memory).
pub(super) fn normal_for_many(comparisons: usize) -> f64 {
    let comparisons = u64::try_from(comparisons).unwrap_or(u64::MAX).max(1);
    let tail = 0.025 / statistics::real(comparisons);
    let (mut low, mut high) = (0.0, 40.0);
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if libm::erfc(middle / std::f64::consts::SQRT_2) / 2.0 > tail {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// An interval at 95 %: a method that gives one each time has the truth in it in
/// about 95 of 100 cases.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

/// A figure that was estimated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The figure.
    pub value: f64,
    /// Its standard error, in the same unit.
    pub error: f64,
}

impl Interval {
    /// Whether the value lies in it, its ends included.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// Returns an interval of shares in whole hundredths: `43 to 61 %`.
    #[must_use]
    pub fn percent(&self) -> String {
        format!("{:.0} to {:.0} %", 100.0 * self.low, 100.0 * self.high)
    }

    /// Whether all of it lies above a value, or all of it below.
    #[must_use]
    pub fn leaves_out(&self, value: f64) -> bool {
        self.low > value || self.high < value
    }

    /// Returns the part of it that lies between two bounds.
    #[must_use]
    pub(super) fn clamped(self, lowest: f64, highest: f64) -> Self {
        Self {
            low: self.low.clamp(lowest, highest),
            high: self.high.clamp(lowest, highest),
        }
    }
}

impl Estimate {
    /// Returns the estimate with 1.96 standard errors on each side.
    ///
    /// Source: the large-sample normal interval (Wald), common practice.
    #[must_use]
    pub fn interval(&self) -> Interval {
        Interval {
            low: self.value - NORMAL_975 * self.error,
            high: self.value + NORMAL_975 * self.error,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::ContinuousCDF;
    use statrs::distribution::Normal;

    #[test]
    fn the_normal_point_leaves_one_in_forty_above() {
        let normal = Normal::new(0.0, 1.0).expect("a normal distribution");
        assert!((normal.inverse_cdf(0.975) - NORMAL_975).abs() < 1e-12);
    }

    #[test]
    fn many_comparisons_need_more_standard_errors() {
        let normal = Normal::new(0.0, 1.0).expect("a normal distribution");
        for (comparisons, tail) in [(1, 0.025), (2, 0.0125), (10, 0.0025), (1000, 0.000_025)] {
            let point = normal_for_many(comparisons);
            assert!((point - normal.inverse_cdf(1.0 - tail)).abs() < 1e-7);
        }
        assert!((normal_for_many(1) - NORMAL_975).abs() < 1e-12);
    }

    #[test]
    fn an_estimate_lies_in_the_middle_of_its_interval() {
        let estimate = Estimate {
            value: 0.5,
            error: 0.1,
        };
        let interval = estimate.interval();
        assert!(interval.holds(0.5) && interval.holds(0.31) && !interval.holds(0.3));
        let clamped = interval.clamped(0.4, 0.6);
        assert!(clamped.holds(0.4) && clamped.holds(0.6) && !clamped.holds(0.39));
    }
}
