//! The pieces of a sentence that hold its answer: explanations, things taken
//! back and the steps before `=` left aside.

use crate::answer::reading;
use crate::answer::reading::piece;
use crate::answer::reading::piece::Piece;
use crate::answer::reading::vocabulary::Mark;

/// What is left, and why a person should look.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Narrowed<'p> {
    /// The pieces that hold the answer.
    pub(super) pieces: &'p [Piece],
    /// Reasons to look.
    pub(super) doubts: Vec<String>,
    /// What stood left of the last `=`, where the answer is right of it.
    pub(super) left_of_equals: Option<&'p [Piece]>,
}

/// Returns the pieces that hold the answer.
pub(super) fn narrow(all: &[Piece]) -> Narrowed<'_> {
    let mut narrowed = Narrowed {
        pieces: all,
        doubts: Vec::new(),
        left_of_equals: None,
    };
    narrowed.drop_explanation();
    narrowed.drop_remainder();
    narrowed.take_crossed_out();
    narrowed.take_correction();
    narrowed.drop_negated();
    narrowed.take_conclusion();
    narrowed.take_right_side();
    narrowed
}

impl<'p> Narrowed<'p> {
    /// The last place where a piece is so, with amounts on the sides asked for.
    fn split_at_last(&self, is_it: impl Fn(&Piece) -> bool) -> Option<(&'p [Piece], &'p [Piece])> {
        let index = self.pieces.iter().rposition(is_it)?;
        let (before, rest) = self.pieces.split_at(index);
        Some((before, rest.get(1..).unwrap_or_default()))
    }

    fn doubt(&mut self, why: &str) {
        self.doubts.push(why.to_owned());
    }

    fn drop_explanation(&mut self) {
        let index = self
            .pieces
            .iter()
            .position(|piece| *piece == Piece::Mark(Mark::Because));
        let Some(index) = index else { return };
        let (before, reason) = self.pieces.split_at(index);
        if piece::has_amount(before) {
            self.pieces = before;
            return;
        }
        // "When A turns 9 times, B turns 3 times": the answer stands behind.
        let comma = reason.iter().position(|piece| *piece == Piece::Break(','));
        if let Some(comma) = comma {
            let (_, after) = reason.split_at(comma);
            if piece::has_amount(after) {
                self.pieces = after;
            }
        }
    }

    fn drop_remainder(&mut self) {
        let Some((before, _)) = self.split_at_last(|piece| *piece == Piece::Mark(Mark::Remainder))
        else {
            return;
        };
        if piece::has_amount(before) {
            self.pieces = before;
            self.doubt("a remainder is said");
        }
    }

    fn take_crossed_out(&mut self) {
        let Some((before, after)) = self.split_at_last(|piece| *piece == Piece::Mark(Mark::Cross))
        else {
            return;
        };
        if piece::has_amount(before) && piece::has_amount(after) {
            self.pieces = after;
            self.doubt("something is crossed out: the other answer is taken");
        }
    }

    fn take_correction(&mut self) {
        if let Some((before, after)) = self.split_at_last(|piece| *piece == Piece::Mark(Mark::But))
            && piece::has_amount(before)
            && piece::has_amount(after)
        {
            self.pieces = after;
            self.doubt(reading::CORRECTED);
            return;
        }
        let Some((before, after)) =
            self.split_at_last(|piece| *piece == Piece::Mark(Mark::Correction))
        else {
            return;
        };
        if piece::has_amount(after) {
            self.pieces = after;
            self.doubt(reading::CORRECTED);
        } else if piece::has_amount(before) {
            self.pieces = before;
            self.doubt("a correction without a later answer");
        }
    }

    /// `not 27, 3` and `3 not 27`: the amount behind `not` is left out.
    fn drop_negated(&mut self) {
        let Some((before, after)) = self.split_at_last(|piece| *piece == Piece::Mark(Mark::Not))
        else {
            return;
        };
        let Some(negated) = after.iter().position(|piece| piece.amount().is_some()) else {
            return;
        };
        let (_, later) = after.split_at(negated + 1);
        let same_clause = !after
            .iter()
            .take(negated)
            .any(|piece| matches!(piece, Piece::Break(_)));
        if !same_clause {
            return;
        }
        if piece::has_amount(before) {
            self.pieces = before;
        } else if piece::has_amount(later) {
            self.pieces = later;
        } else {
            self.pieces = &[];
        }
        self.doubt("one answer is said not to be meant");
    }

    fn take_conclusion(&mut self) {
        if let Some((_, after)) =
            self.split_at_last(|piece| *piece == Piece::Mark(Mark::Conclusion))
            && piece::has_amount(after)
        {
            self.pieces = after;
        }
    }

    fn take_right_side(&mut self) {
        let is_equals = |piece: &Piece| matches!(piece, Piece::Equals | Piece::Arrow);
        let Some((left, right)) = self.split_at_last(is_equals) else {
            return;
        };
        if !piece::has_amount(right) {
            self.pieces = left;
            return;
        }
        // "3 = 36 ÷ 12": the sum stands right, the answer left.
        let is_sum = |pieces: &[Piece]| {
            pieces
                .iter()
                .any(|piece| matches!(piece, Piece::Operator(_)))
        };
        if is_sum(right) && !is_sum(left) && piece::has_amount(left) {
            self.pieces = left;
            return;
        }
        self.pieces = right;
        self.left_of_equals = piece::has_amount(left).then_some(left);
    }
}
