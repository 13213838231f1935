//! The front of the page: a subject lead's questions, each with its answer in sentences.

use crate::attainment;
use crate::html;

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
            add!(text, "<p>{}</p>\n", html::text(&remark.text));
        }
        text.push_str("</div>\n</section>\n");
    }
    text.push_str("</section>\n");
    text
}
