//! Which numbers more are held back.

use crate::held_back;
use crate::held_back::audit;
use crate::held_back::known;
use std::collections::BTreeSet;

/// Returns what a reader may see.
///
/// Begins with what the rules hold back. While something can be found out, the smallest
/// number that helps to find it goes as well. Where all that hangs together with it is
/// held back already, even the reasons go. It ends, because each turn holds back more.
pub(super) fn choose(ledger: &held_back::Ledger) -> known::View {
    let mut view = known::by_the_rules(ledger);
    for (cell, seen) in view.seen.clone().into_iter().enumerate() {
        match seen {
            known::Seen::HeldBack(_) => hold_back_about(ledger, &mut view, cell),
            known::Seen::Shown | known::Seen::Never => {}
        }
    }
    // What was safe stays so when more is held back; all the same the whole is audited
    // once more at the end.
    let (mut safe, mut audited) = (BTreeSet::new(), false);
    // Secrets with which nothing that is told hangs together.
    let (mut left_unsaid, mut apart) = (BTreeSet::new(), BTreeSet::new());
    loop {
        let open = (0..ledger.cells.len()).find(|cell| {
            view.is_secret(ledger, *cell) && !audit::is_safe(ledger, &view, *cell, &mut safe)
        });
        let Some(open) = open else {
            if audited {
                return view;
            }
            safe.clone_from(&apart);
            audited = true;
            continue;
        };
        audited = false;
        if let Some(cell) = next(ledger, &view, open) {
            view.seen[cell] = known::Seen::HeldBack(held_back::Reason::ToProtect);
            hold_back_about(ledger, &mut view, cell);
        } else if left_unsaid.insert(open) {
            leave_unsaid(ledger, &mut view, open);
        } else {
            apart.insert(open);
            safe.insert(open);
        }
    }
}

/// Holds back all that is told of a group that is held back.
fn hold_back_about(ledger: &held_back::Ledger, view: &mut known::View, group: usize) {
    for (cell, seen) in ledger.cells.iter().zip(&mut view.seen) {
        let about = cell.group() == Some(held_back::CellId(group));
        if about && *seen == known::Seen::Shown {
            *seen = known::Seen::HeldBack(held_back::Reason::SmallGroup);
        }
    }
}

/// Returns the number told that goes next, to keep a secret: the smallest in a sum in
/// which the secret stands alone among numbers told, or a neighbour of it; else the
/// smallest in the nearest sum that hangs together with it.
fn next(ledger: &held_back::Ledger, view: &known::View, secret: usize) -> Option<usize> {
    let rings = view.rings(ledger, secret);
    let near = rings.iter().take(2);
    near.map(|ring| smallest(ledger, view, ring, Wanted::Alone))
        .chain(
            rings
                .iter()
                .map(|ring| smallest(ledger, view, ring, Wanted::Any)),
        )
        .find_map(|found| found)
}

/// Which sums are looked at.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Wanted {
    /// Those in which all numbers are told but one.
    Alone,
    /// All.
    Any,
}

/// The smallest number told that could go, in the sums of some numbers not told.
fn smallest(
    ledger: &held_back::Ledger,
    view: &known::View,
    ring: &BTreeSet<usize>,
    wanted: Wanted,
) -> Option<usize> {
    let sums = ledger.sums.iter().filter(|sum| {
        let not_told = sum
            .cells()
            .filter(|cell| view.seen[*cell] != known::Seen::Shown);
        let fits = match wanted {
            Wanted::Alone => not_told.count() == 1,
            Wanted::Any => true,
        };
        fits && sum.cells().any(|cell| ring.contains(&cell))
    });
    let may_go = sums
        .flat_map(held_back::Sum::cells)
        .filter(|cell| may_go(ledger, view, *cell));
    may_go.min_by_key(|cell| {
        let entry = &ledger.cells[*cell];
        (ledger.pupils(entry), entry.value, *cell)
    })
}

/// Whether a number is told and could be held back. That there are no pupils is always
/// told.
fn may_go(ledger: &held_back::Ledger, view: &known::View, cell: usize) -> bool {
    let is_nobody = match ledger.cells[cell].rule {
        held_back::Rule::Group | held_back::Rule::Within(_) => ledger.cells[cell].value == 0,
        held_back::Rule::Amount(_)
        | held_back::Rule::Part { .. }
        | held_back::Rule::Crossing
        | held_back::Rule::CrossingAmount(_)
        | held_back::Rule::Rest => false,
    };
    view.seen[cell] == known::Seen::Shown && !is_nobody
}

/// Says no reason for anything that hangs together with a secret.
fn leave_unsaid(ledger: &held_back::Ledger, view: &mut known::View, secret: usize) {
    for cell in view.reach(ledger, secret) {
        match view.seen[cell] {
            known::Seen::HeldBack(_) => {
                view.seen[cell] = known::Seen::HeldBack(held_back::Reason::Unsaid);
            }
            known::Seen::Shown | known::Seen::Never => {}
        }
    }
}
