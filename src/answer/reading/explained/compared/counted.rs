//! What is said beside bigger and smaller: numbers, axles, teeth that pass, stages,
//! places in the row.

use crate::answer::reading::explained::Claims;
use crate::answer::reading::explained::compared::Reading;
use crate::answer::reading::explained::sign::Degree;
use crate::answer::reading::explained::sign::Sign;
use crate::answer::reading::explained::statement::Quality;
use crate::gears::idea::Idea;
use crate::number;
use std::cmp::Ordering;

impl Reading<'_> {
    /// Equal sizes, numbers of teeth, and how many times.
    pub(super) fn numbers(&self, claims: &mut Claims<'_>) {
        let text = self.text;
        let passes = text.has(Sign::Pass) || text.has(Sign::SameLength);
        let is_equal = self.sizes_compared() == Some(Ordering::Equal);
        let both_named = [self.pair.first, self.pair.second]
            .iter()
            .all(|part| text.has(Sign::Part(*part)));
        let denied_size = text.clauses().any(|clause| {
            clause.contains(&Sign::None) && clause.iter().any(|sign| matches!(sign, Sign::Size(_)))
        });
        let is_same_said = text.has_any(&[Sign::SameSize, Sign::SameTeeth])
            || denied_size
            || (text.has(Sign::Same) && text.has(Sign::Teeth))
            || (text.has(Sign::Same) && both_named);
        let sizes: Vec<number::Number> = [self.pair.first, self.pair.second]
            .iter()
            .filter_map(|part| self.size(*part))
            .collect();
        let told: Vec<number::Number> = text
            .numbers()
            .filter(|number| sizes.contains(number))
            .collect();
        if is_equal && ((is_same_said && !passes) || !told.is_empty()) {
            claims.says(Idea::SameSizeSameSpeed);
        } else if is_equal && text.has(Sign::Same) {
            claims.touches(Idea::SameSizeSameSpeed);
        }
        let (idea, right) = match self.pair.asked {
            Quality::Power => (Idea::BiggerStronger, Degree::More),
            Quality::Pace | Quality::Size => (Idea::SmallerFaster, Degree::Less),
        };
        let says_size = self
            .statements
            .all
            .iter()
            .any(|statement| statement.quality == Quality::Size);
        if self.differ() && !says_size && !text.has(Sign::Divided) {
            let has_both = sizes.iter().all(|size| told.contains(size));
            if has_both {
                claims.says(idea);
            } else if let [one] = told.as_slice() {
                self.one_number(claims, (idea, right), *one);
            }
        }
        for sign in text.signs {
            if let Sign::Times(times) = sign {
                if text.explaining.reasons.ground.times.contains(times) {
                    claims.says(Idea::TeethGiveTimes);
                } else {
                    claims.touches(Idea::TeethGiveTimes);
                }
            }
        }
    }

    /// "It only has 8 teeth": of the one that is asked about, where none is named.
    fn one_number(&self, claims: &mut Claims<'_>, idea: (Idea, Degree), told: number::Number) {
        let has_pace = self
            .text
            .signs
            .iter()
            .any(|sign| matches!(sign, Sign::Pace(_)));
        let Some(answered) = self.answered else {
            claims.touches(idea.0);
            return;
        };
        // "A has 8" says a fact; only with "so it is quick" is it a reason.
        let names_a_part = self
            .text
            .signs
            .iter()
            .any(|sign| matches!(sign, Sign::Part(part) if *part != answered || !has_pace));
        if names_a_part {
            claims.touches(idea.0);
            return;
        }
        let own = self.size(answered);
        let other = self.size(self.pair.other(answered));
        let is_right = match idea.1 {
            Degree::Less => own < other,
            Degree::More => own > other,
        };
        if own == Some(told) && is_right {
            claims.says(idea.0);
        } else {
            claims.touches(idea.0);
        }
    }

    /// What is on one axle.
    pub(super) fn together(&self, claims: &mut Claims<'_>) {
        let text = self.text;
        let once = text
            .signs
            .iter()
            .filter(|sign| **sign == Sign::Once)
            .count();
        if text.has_any(&[Sign::Axle, Sign::Join, Sign::Together]) || once > 1 {
            claims.says(Idea::OneAxleTogether);
        }
    }

    /// Tooth by tooth.
    pub(super) fn passing(&self, claims: &mut Claims<'_>) {
        let text = self.text;
        let count = |wanted: Sign| text.signs.iter().filter(|sign| **sign == wanted).count();
        let one_for_one = text.has(Sign::EachTooth) && text.has(Sign::OneTooth);
        let is_alike = text.has(Sign::SameSize) && text.has(Sign::Pass);
        if one_for_one || is_alike || count(Sign::OneTooth) > 1 || text.has(Sign::SameLength) {
            claims.says(Idea::TeethPassAlike);
        }
        if text.has(Sign::OneTooth) && (text.has(Sign::Turns) || text.has(Sign::Worm)) {
            claims.says(Idea::WormToothByTooth);
        }
    }

    /// What several stages do, and what stands between.
    pub(super) fn stages(&self, claims: &mut Claims<'_>) {
        let text = self.text;
        let changes_speed = self
            .statements
            .all
            .iter()
            .any(|statement| statement.quality != Quality::Size);
        let twice = text.has_any(&[
            Sign::Again,
            Sign::Stage,
            Sign::Each,
            Sign::Times(number::Number::whole(2)),
        ]);
        if changes_speed && twice {
            claims.says(Idea::StagesBuildUp);
        }
        if !text.has(Sign::Between) {
            return;
        }
        let is_idle = text.has(Sign::Matter) || (text.has(Sign::Not) && text.has(Sign::Change));
        if is_idle {
            claims.says(Idea::BetweenKeepsSpeed);
        } else if text.clauses().any(|clause| {
            clause.contains(&Sign::Between)
                && clause.iter().any(|sign| matches!(sign, Sign::Pace(_)))
        }) {
            claims.denies(Idea::BetweenKeepsSpeed);
        } else {
            claims.touches(Idea::BetweenKeepsSpeed);
        }
    }

    /// First, last, nearest the handle.
    pub(super) fn places(&self, claims: &mut Claims<'_>) {
        let text = self.text;
        let slows = self
            .statements
            .all
            .iter()
            .any(|statement| statement.quality != Quality::Size);
        let fades = text.has_any(&[Sign::Last, Sign::Along]) && slows;
        if text.has(Sign::First) || fades {
            claims.denies(Idea::MovementDoesNotFade);
        }
        if text.has(Sign::Arm) {
            claims.says(Idea::BiggerStronger);
        }
    }
}
