//! Which of two: the faster, the stronger, or neither.

use crate::answer::Candidate;
use crate::answer::Given;
use crate::answer::ListOption;
use crate::answer::Reading;
use crate::answer::reading;
use crate::answer::reading::atom::Atom;
use crate::answer::reading::ways;
use crate::answer::scene;
use crate::gears::ask::Fact;
use crate::gears::ask::Which;

/// Returns which of two an answer names.
pub(super) fn read(atoms: &[Atom], scene: &scene::Scene, options: &[ListOption]) -> Reading {
    let (scene::About::Faster(first, second) | scene::About::Stronger(first, second)) = scene.about
    else {
        return reading::unreadable("no comparison is asked");
    };
    let mut doubts = Vec::new();
    let says = |atoms: &[Atom]| {
        atoms.iter().any(|atom| {
            matches!(atom, Atom::Part(part) if [first, second].contains(part))
                || matches!(atom, Atom::Same | Atom::None)
        })
    };
    let mut kept = ways::crossed_out(atoms, says, &mut doubts);
    if let Some(index) = kept.iter().position(|atom| *atom == Atom::Because)
        && says(kept.get(..index).unwrap_or_default())
    {
        kept.truncate(index);
    }
    let kept = ways::corrected(&kept, ways::is_correction, says, &mut doubts);
    let pair = Pair { first, second };
    let found = pair.found(&kept);
    let candidates: Vec<Candidate> = found
        .iter()
        .filter_map(|which| {
            let option = options
                .iter()
                .find(|option| option.fact == Fact::Which(*which))?;
            Some(Candidate {
                given: Given::Entry(option.fact.clone()),
                sureness: reading::sureness(&doubts),
                said: option.text.clone(),
            })
        })
        .collect();
    if candidates.is_empty() {
        // Where the two stand only the sheet shows.
        let is_side = |atom: &Atom| matches!(atom, Atom::Filler(word) if ["left", "right"].contains(&word.as_str()));
        return if atoms.iter().any(is_side) {
            reading::unreadable("left and right are for a person to look up")
        } else {
            reading::other_kind(atoms, "neither of the two")
        };
    }
    reading::one_or_several(candidates)
}

/// The two that are compared.
struct Pair {
    first: usize,
    second: usize,
}

impl Pair {
    fn which(&self, part: usize) -> Option<Which> {
        if part == self.first {
            Some(Which::First)
        } else if part == self.second {
            Some(Which::Second)
        } else {
            None
        }
    }

    fn other(which: Which) -> Which {
        match which {
            Which::First => Which::Second,
            Which::Second => Which::First,
            Which::Same => Which::Same,
        }
    }

    /// The different answers of the clauses.
    fn found(&self, atoms: &[Atom]) -> Vec<Which> {
        let mut clauses: Vec<Clause> = Vec::new();
        for clause in
            atoms.split(|atom| matches!(atom, Atom::Break | Atom::But | Atom::If | Atom::So))
        {
            match self.sides(clause) {
                Some(sides) => clauses.extend(sides),
                None => clauses.extend(self.clause(clause)),
            }
        }
        // A comparison says more than a name alone.
        let has_comparison = clauses.iter().any(|clause| clause.compares);
        let mut found: Vec<Which> = Vec::new();
        for clause in clauses {
            if (clause.compares || !has_comparison) && !found.contains(&clause.which) {
                found.push(clause.which);
            }
        }
        // "A, B the same" names both and then says it.
        if found.contains(&Which::Same) && !has_comparison {
            return vec![Which::Same];
        }
        found
    }

    /// What the sides of an "or", or of an "and" between two comparisons, say one by one;
    /// `None` where there is but one thing said. "A or B is faster" leaves both open.
    fn sides(&self, atoms: &[Atom]) -> Option<Vec<Clause>> {
        let is_comparison = |atom: &Atom| matches!(atom, Atom::More | Atom::Less);
        let compares = |side: &[Atom]| side.iter().any(is_comparison);
        let says = |side: &[Atom]| {
            side.iter().any(|atom| {
                matches!(atom, Atom::Part(part) if self.which(*part).is_some())
                    || *atom == Atom::Same
            })
        };
        let sides_of = |joint: &Atom| -> Vec<&[Atom]> {
            let sides = atoms.split(|atom| atom == joint);
            sides.filter(|side| says(side)).collect()
        };
        let sides = match (sides_of(&Atom::Or), sides_of(&Atom::And)) {
            // "neither A or B"
            (_, _) if atoms.contains(&Atom::None) => return None,
            (sides, _) if sides.len() > 1 => sides,
            (_, sides) if sides.len() > 1 && sides.iter().all(|side| compares(side)) => sides,
            (_, _) => return None,
        };
        let comparison = atoms.iter().rfind(|atom| is_comparison(atom));
        let clauses = sides.into_iter().flat_map(|side| match comparison {
            Some(comparison) if !compares(side) => {
                self.clause(&[side, std::slice::from_ref(comparison)].concat())
            }
            Some(_) | None => self.clause(side),
        });
        Some(clauses.map(|it| Clause::comparing(it.which)).collect())
    }

    fn clause(&self, atoms: &[Atom]) -> Vec<Clause> {
        let parts: Vec<(usize, Which)> = atoms
            .iter()
            .enumerate()
            .filter_map(|(index, atom)| {
                let Atom::Part(part) = atom else { return None };
                Some((index, self.which(*part)?))
            })
            .collect();
        let place = |wanted: &Atom| atoms.iter().position(|atom| atom == wanted);
        let negated = atoms.contains(&Atom::Not);
        if place(&Atom::Same).is_some() || place(&Atom::None).is_some() {
            if negated {
                return Vec::new();
            }
            return vec![Clause::comparing(Which::Same)];
        }
        let comparison = atoms
            .iter()
            .position(|atom| matches!(atom, Atom::More | Atom::Less));
        if let Some(index) = comparison {
            let more = atoms.get(index) == Some(&Atom::More);
            // The subject stands before the comparison, else right behind it.
            let before = parts.iter().rev().find(|(at, _)| *at < index);
            let behind = parts.iter().find(|(at, _)| *at > index);
            let is_than = |at: usize| {
                atoms
                    .get(index..at)
                    .is_some_and(|between| between.contains(&Atom::Than))
            };
            let both_before = parts.iter().filter(|(at, _)| *at < index).count() == 2;
            if both_before && before.map(|it| it.1) != parts.first().map(|it| it.1) {
                // "A and B both fast"
                return vec![Clause::comparing(Which::Same)];
            }
            let subject = before.map(|(_, which)| *which).or_else(|| {
                behind.map(|(at, which)| {
                    if is_than(*at) {
                        // "faster than B" alone: the other one is.
                        Self::other(*which)
                    } else {
                        *which
                    }
                })
            });
            let Some(subject) = subject else {
                return Vec::new();
            };
            let is_subject = more != negated;
            return vec![Clause::comparing(if is_subject {
                subject
            } else {
                Self::other(subject)
            })];
        }
        if atoms.contains(&Atom::Both) && parts.is_empty() {
            return vec![Clause::naming(Which::Same)];
        }
        // Names alone; "A not B" leaves one out.
        let mut named: Vec<Which> = Vec::new();
        for (at, which) in &parts {
            let is_negated = atoms
                .get(..*at)
                .unwrap_or_default()
                .iter()
                .rev()
                .find(|atom| !matches!(atom, Atom::Filler(_)))
                == Some(&Atom::Not);
            if !is_negated && !named.contains(which) {
                named.push(*which);
            }
        }
        if named.len() == 2 && atoms.contains(&Atom::Both) {
            return vec![Clause::naming(Which::Same)];
        }
        named.into_iter().map(Clause::naming).collect()
    }
}

/// What one clause says.
struct Clause {
    which: Which,
    /// Whether it compares, and does not only name.
    compares: bool,
}

impl Clause {
    fn comparing(which: Which) -> Self {
        Self {
            which,
            compares: true,
        }
    }

    fn naming(which: Which) -> Self {
        Self {
            which,
            compares: false,
        }
    }
}
