//! Whether an explanation can earn the marks that its question gives.

use crate::bank::draft;
use crate::gears::ask;
use crate::table;

/// Notes more marks than there are ideas that earn them, and working beside what is
/// words already.
pub(super) fn check(
    reader: &mut table::Reader,
    part: &draft::PartDraft,
    ask_at: usize,
    fact: &ask::Fact,
) {
    let ask::Fact::Reasons(reasons) = fact else {
        return;
    };
    let ideas = reasons.key.len();
    if usize::from(part.marks) > ideas {
        reader.fault(
            ask_at,
            format!(
                "`marks` is {}, and {} here",
                part.marks,
                match ideas {
                    1 => "one idea earns a mark".to_owned(),
                    more => format!("{more} ideas earn one mark each"),
                }
            ),
            "give no more marks than there are ideas that explain the answer",
        );
    }
    if part.working {
        reader.fault(
            ask_at,
            "`working` is true beside an explanation",
            "leave it out: an explanation is words already",
        );
    }
}
