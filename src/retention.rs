//! Until when files with pupils' work may be kept.
//!
//! What a school keeps of pupils it keeps no longer than its own rules say. Where it says
//! nothing, work is kept until the end of the academic year in which it was set. Every
//! output that holds names, ids, answers or marks says so. Takes days; knows nothing of
//! files and of today.

use crate::date;

/// Returns the last day on which work may be kept: the one that the school chose, else the
/// end of the academic year in which it was set; none where that is no day.
///
/// Source: the end of the academic year is common practice, no source; data are kept no
/// longer than is needed by Regulation (EU) 2016/679, article 5(1)(e), also as retained in
/// the United Kingdom.
#[must_use]
pub fn until(set_on: &str, chosen: Option<date::Date>) -> Option<date::Date> {
    let set_on: Option<date::Date> = set_on.parse().ok();
    chosen.or_else(|| set_on.map(date::Date::end_of_academic_year))
}

/// Returns what an output says of it, a sentence.
#[must_use]
pub fn sentence(until: Option<date::Date>) -> String {
    match until {
        Some(_) => format!(
            "{}, or as your school's retention rules say.",
            shortly(until)
        ),
        None => "Keep no longer than your school's retention rules say.".to_owned(),
    }
}

/// Returns what stands where there is no room for the sentence; nothing where there is no
/// day.
#[must_use]
pub fn shortly(until: Option<date::Date>) -> String {
    until.map_or_else(String::new, |day| format!("Keep until {}", day.in_words()))
}

/// Returns the day as other programs read it; nothing where there is none.
#[must_use]
pub fn cell(until: Option<date::Date>) -> String {
    until.map_or_else(String::new, |day| day.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_is_kept_until_the_day_chosen_or_the_end_of_its_academic_year() {
        let chosen = "2031-07-04".parse().ok();
        for (set_on, chosen, said) in [
            (
                "2026-03-09",
                None,
                "Keep until 31 August 2026, or as your school's retention rules say.",
            ),
            (
                "2026-03-09",
                chosen,
                "Keep until 4 July 2031, or as your school's retention rules say.",
            ),
            (
                "soon",
                chosen,
                "Keep until 4 July 2031, or as your school's retention rules say.",
            ),
            (
                "soon",
                None,
                "Keep no longer than your school's retention rules say.",
            ),
        ] {
            assert_eq!(sentence(until(set_on, chosen)), said, "{set_on}");
        }
        assert_eq!(cell(until("2026-03-09", None)), "2026-08-31");
        assert_eq!(cell(until("soon", None)), "");
    }
}
