//! The front of the page: a subject lead's questions, each with its answer in sentences,
//! and how to read the figures after it.

use crate::attainment;
use crate::html;

/// How to read the figures, once for all tables.
const READING: [&str; 4] = [
    "Facility is the marks earned of the marks to be had, over answers attempted or left blank. \
     Not reached, absent and excused do not count for it.",
    "In brackets stands the 95 % interval (Wilson): where the facility of many pupils like these \
     would lie. Where two of them share much, the difference may be chance.",
    "Pupils are those who handed in. Counts from Correct to Excused are answers, not pupils.",
    "Nothing is told of fewer than 5 pupils, nor what they could be worked out from. Of 5 to 9 \
     pupils only counts are told, and no facility.",
];

/// Returns the front of the page.
pub(super) fn front(summary: &attainment::Summary) -> String {
    let mut text = "<section class=\"front\" aria-labelledby=\"front\">\n\
                    <h2 id=\"front\">At a glance</h2>\n"
        .to_owned();
    let mut themes: Vec<_> = summary.overview.iter().map(|remark| remark.theme).collect();
    themes.dedup();
    for theme in themes {
        add!(
            text,
            "<section class=\"asked\">\n<h3>{}</h3>\n<div>\n",
            html::text(theme.title())
        );
        for remark in summary.overview.iter().filter(|it| it.theme == theme) {
            add!(text, "<p>{}</p>\n", sentence(&remark.text));
        }
        text.push_str("</div>\n</section>\n");
    }
    text.push_str("</section>\n");
    text
}

/// A sentence as text of the page, in which no number is parted from its sign.
fn sentence(said: &str) -> String {
    html::text(said).replace(" %", "\u{a0}%")
}

/// Returns how to read what follows.
pub(super) fn reading() -> String {
    let mut text = "<section class=\"notes\" aria-labelledby=\"reading\">\n\
                    <h2 id=\"reading\">How to read the figures</h2>\n"
        .to_owned();
    for note in READING {
        add!(text, "<p>{}</p>\n", sentence(note));
    }
    text.push_str("</section>\n");
    text
}
