//! The front page in sentences: a subject lead's questions, each with its answer.
//!
//! Used by the workbook, the page in the browser and the console alike. No band and no
//! threshold is built in: a difference is only told where intervals say that it is more
//! than chance, and the school says what is good enough.

use crate::attainment;
use crate::attainment::care;
use crate::attainment::count;
use crate::held_back;
use crate::statistics::interval;
use crate::wording;

mod again;
mod asked;
mod next;
mod standing;
mod sure;

/// How many skills, misconceptions or statements are named in each list.
const MOST_NAMED: usize = 3;

/// What a sentence answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Theme {
    /// What the numbers cover, and for whom they are.
    Covers,
    /// How the years stand.
    Years,
    /// What holds and what does not.
    Holds,
    /// What to teach again, and where.
    Again,
    /// Whether it has grown.
    Grown,
    /// Whether some groups do less well.
    Groups,
    /// What of the curriculum was never asked.
    NeverAsked,
    /// How sure it is, and whether the questions can be trusted.
    Sure,
    /// What to do next.
    Next,
}

/// One sentence, or a few that belong together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// What it answers.
    pub theme: Theme,
    /// The sentence.
    pub text: String,
}

impl Theme {
    /// Returns the question, as it stands over the answer.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Covers => "What is this, and for whom?",
            Self::Years => "How do the year groups stand?",
            Self::Holds => "What holds, and what does not?",
            Self::Again => "What should we teach again, and where?",
            Self::Grown => "Has it grown since last time?",
            Self::Groups => "Do some groups do less well?",
            Self::NeverAsked => "What of the curriculum was never asked?",
            Self::Sure => "How sure is this, and can the questions be trusted?",
            Self::Next => "What to do next",
        }
    }
}

/// Returns the sentences about a summary, in the order of their themes.
pub(super) fn remarks(summary: &attainment::Summary, care: &care::Care) -> Vec<Remark> {
    let mut remarks = Vec::new();
    let mut say = |theme, texts: Vec<String>| {
        remarks.extend(texts.into_iter().map(|text| Remark { theme, text }));
    };
    say(Theme::Covers, covers(summary));
    if is_of_few(&summary.whole) {
        return remarks;
    }
    say(Theme::Years, standing::years(summary));
    say(Theme::Holds, standing::skills(summary));
    say(Theme::Again, again::sentences(summary));
    say(Theme::Grown, standing::growth(summary));
    say(Theme::Groups, standing::groups(summary));
    say(Theme::NeverAsked, asked::sentences(summary));
    say(Theme::Sure, sure::sentences(summary, care));
    say(Theme::Next, next::sentences(summary, care));
    remarks
}

fn covers(summary: &attainment::Summary) -> Vec<String> {
    let homeworks = u32::try_from(summary.homeworks.len()).unwrap_or(u32::MAX);
    if is_of_few(&summary.whole) {
        return vec![format!(
            "{}, handed in by fewer than 5 pupils: too few to report.",
            wording::counted(homeworks, "homework")
        )];
    }
    let figures = summary.whole.shown.figures();
    let pupils = figures.map_or_else(
        || "how many pupils there are is not shown, to protect a smaller group".to_owned(),
        |figures| wording::counted(figures.pupils, "pupil"),
    );
    let answers = figures
        .and_then(count::Figures::counted)
        .map_or_else(String::new, |answers| {
            format!(
                ", {} attempted or left blank",
                wording::counted(answers, "answer")
            )
        });
    let mut texts = vec![format!(
        "{}, {pupils}{answers}.{}",
        wording::counted(homeworks, "homework"),
        dates(summary)
    )];
    texts.push(
        "For staff who plan the teaching. No pupil is named, and nothing is told of fewer than \
         five. Delete these files when they are no longer needed: they can be made again from \
         the marked homeworks."
            .to_owned(),
    );
    texts
}

/// Whether everything together is of fewer than five pupils.
fn is_of_few(whole: &attainment::Row) -> bool {
    match &whole.shown {
        count::Shown::Hidden(why) => *why == held_back::Reason::TooFew,
        count::Shown::InFull { figures, .. } | count::Shown::CountsOnly { figures } => {
            figures.pupils == 0
        }
    }
}

/// ` Set from 2026-09-07 to 2026-10-12, last marked on 2026-10-15.`
fn dates(summary: &attainment::Summary) -> String {
    let set = || summary.homeworks.iter().map(|it| it.set_on.as_str());
    let marked = summary.homeworks.iter().map(|it| it.marked_on.as_str());
    let (Some(first), Some(last), Some(marked)) = (set().min(), set().max(), marked.max()) else {
        return String::new();
    };
    if first == last {
        format!(" Set on {first}, last marked on {marked}.")
    } else {
        format!(" Set from {first} to {last}, last marked on {marked}.")
    }
}

/// The numbers of a group whose share may be told.
fn shared_of(shown: &count::Shown) -> Option<&count::Figures> {
    match shown {
        count::Shown::InFull { figures, .. } => Some(figures),
        count::Shown::CountsOnly { .. } | count::Shown::Hidden(_) => None,
    }
}

/// `a, b and c`.
fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// `54 to 78`: the ends of an interval of shares, in hundredths.
fn ends(interval: &interval::Interval) -> String {
    interval.percent().trim_end_matches(" %").to_owned()
}
