//! Statements about sizes, speeds and forces, and how they hang together.

use crate::answer::reading::explained;
use crate::answer::reading::explained::sign::Degree;
use crate::answer::reading::explained::sign::Sign;

/// What a statement is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Quality {
    /// How big, how many teeth.
    Size,
    /// How fast.
    Pace,
    /// How strong.
    Power,
}

/// Of what it is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Subject {
    /// Of this part.
    Part(usize),
    /// Of the other one.
    Other,
    /// Of one of them, with no sign which.
    Someone,
    /// Of nothing that is named.
    Implied,
}

/// One statement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Statement {
    pub(super) quality: Quality,
    pub(super) degree: Degree,
    pub(super) subject: Subject,
    /// The clause it stands in.
    pub(super) clause: usize,
    /// Whether its clause says that something pushes or makes another thing do it.
    pub(super) is_pushed: bool,
    /// Whether it only names what the rest of its clause is said of: "the big gear ...".
    pub(super) is_name: bool,
}

/// A text as statements in clauses.
pub(super) struct Statements {
    pub(super) all: Vec<Statement>,
    /// What stands before each clause: [`Sign::Break`] before the first.
    pub(super) links: Vec<Sign>,
}

/// A speed or force with the statement that it hangs together with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Bond {
    /// The size (or speed) that goes with it.
    pub(super) cause: Statement,
    /// The speed (or force).
    pub(super) effect: Statement,
}

impl Statements {
    /// Returns the statements of a text. What stands behind `than` is only compared
    /// with, and what is denied is left out.
    pub(super) fn of(signs: &[Sign]) -> Self {
        let mut found = Self {
            all: Vec::new(),
            links: vec![Sign::Break],
        };
        let mut clause = Clause::default();
        let mut last = Sign::Break;
        for sign in signs {
            if explained::ends_clause(*sign) {
                found.links.push(*sign);
                clause = Clause::default();
            } else {
                found.note_clause(*sign, last);
                clause.take(*sign, last, found.links.len() - 1, &mut found.all);
            }
            last = *sign;
        }
        found
    }

    /// Notes what comes later in a clause about the statements in it.
    fn note_clause(&mut self, sign: Sign, last: Sign) {
        let here = self.links.len() - 1;
        let statements = self.all.iter_mut().filter(|it| it.clause == here);
        for statement in statements {
            statement.is_pushed |= matches!(sign, Sign::Push | Sign::Make);
            let goes_on = !matches!(sign, Sign::Gears | Sign::Than) && last == Sign::Gears;
            statement.is_name |= goes_on
                && statement.quality == Quality::Size
                && !statement.is_pushed
                && statement.subject == Subject::Implied;
        }
    }

    /// The statements of a clause about one quality.
    fn in_clause(&self, clause: usize, quality: Quality) -> impl Iterator<Item = usize> + '_ {
        self.all
            .iter()
            .enumerate()
            .filter(move |(_, it)| it.clause == clause && it.quality == quality)
            .map(|(index, _)| index)
    }

    /// Returns each statement of the effect's quality with what it hangs together
    /// with: in its own clause, else in the one before it that leads to it, else in
    /// the one behind it that gives its reason.
    pub(super) fn bonds(&self, cause: Quality, effect: Quality) -> Vec<Bond> {
        let mut bonds: Vec<Bond> = Vec::new();
        for (index, statement) in self.all.iter().enumerate() {
            if statement.quality != effect {
                continue;
            }
            let partner = self
                .in_own_clause(index, cause)
                .or_else(|| self.before(statement, cause, effect, &bonds))
                .or_else(|| self.behind(statement, cause, effect));
            if let Some(partner) = partner {
                bonds.push(Bond {
                    cause: partner,
                    effect: *statement,
                });
            }
        }
        bonds
    }

    fn in_own_clause(&self, effect: usize, cause: Quality) -> Option<Statement> {
        let here = self.all.get(effect)?.clause;
        let before = self.in_clause(here, cause).filter(|at| *at < effect).last();
        let found = before.or_else(|| self.in_clause(here, cause).next())?;
        self.all.get(found).copied()
    }

    fn before(
        &self,
        statement: &Statement,
        cause: Quality,
        effect: Quality,
        bonds: &[Bond],
    ) -> Option<Statement> {
        let earlier = statement.clause.checked_sub(1)?;
        if matches!(self.links.get(statement.clause), Some(Sign::Because)) {
            return None;
        }
        if let Some(place) = self.in_clause(earlier, cause).last() {
            let is_free = self.in_clause(earlier, effect).next().is_none();
            let continues = statement.subject == Subject::Implied;
            return self
                .all
                .get(place)
                .copied()
                .filter(|_| is_free || continues);
        }
        // "so it turns slower but with more force": the size of the clause before.
        let continues = statement.subject == Subject::Implied;
        let further = earlier.checked_sub(1).filter(|_| continues)?;
        let is_said = bonds.iter().any(|bond| bond.effect.clause == earlier)
            || self.all.iter().any(|it| it.clause == earlier);
        let place = self.in_clause(further, cause).last().filter(|_| is_said)?;
        self.all.get(place).copied()
    }

    fn behind(&self, statement: &Statement, cause: Quality, effect: Quality) -> Option<Statement> {
        let later = statement.clause + 1;
        if !matches!(self.links.get(later), Some(Sign::Because)) {
            return None;
        }
        let is_free = self.in_clause(later, effect).next().is_none();
        let place = self.in_clause(later, cause).next().filter(|_| is_free)?;
        self.all.get(place).copied()
    }
}

/// What is known in the middle of a clause.
#[derive(Default)]
struct Clause {
    subject: Option<Subject>,
    is_pushed: bool,
    is_denied: bool,
    is_compared: bool,
}

impl Clause {
    fn take(&mut self, sign: Sign, last: Sign, clause: usize, all: &mut Vec<Statement>) {
        self.is_compared |= sign == Sign::Than;
        self.is_denied |= matches!(sign, Sign::Not | Sign::None);
        self.is_pushed |= matches!(sign, Sign::Push | Sign::Make);
        if let Some(subject) = subject_of(sign).filter(|_| !self.is_compared) {
            self.subject = Some(subject);
        }
        let Some((quality, degree)) = quality_of(sign) else {
            return;
        };
        if self.is_compared || (self.is_denied && quality == Quality::Size) {
            return;
        }
        let degree = if self.is_denied {
            degree.turned()
        } else {
            degree
        };
        let repeats =
            matches!(last, Sign::Size(before) if before == degree) && quality == Quality::Size;
        if repeats {
            return;
        }
        all.push(Statement {
            quality,
            degree,
            subject: self.subject.unwrap_or(Subject::Implied),
            clause,
            is_pushed: self.is_pushed,
            is_name: false,
        });
    }
}

fn quality_of(sign: Sign) -> Option<(Quality, Degree)> {
    if let Sign::Size(degree) = sign {
        Some((Quality::Size, degree))
    } else if let Sign::Pace(degree) = sign {
        Some((Quality::Pace, degree))
    } else if let Sign::Power(degree) = sign {
        Some((Quality::Power, degree))
    } else {
        None
    }
}

fn subject_of(sign: Sign) -> Option<Subject> {
    if let Sign::Part(part) = sign {
        Some(Subject::Part(part))
    } else if sign == Sign::Other {
        Some(Subject::Other)
    } else {
        (sign == Sign::Someone).then_some(Subject::Someone)
    }
}
