//! The page round the questions.

use crate::html;

/// How the page looks.
const STYLE: &str = include_str!("page.css");
/// What it does.
const SCRIPT: &str = include_str!("page.js");

/// What stands on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Content<'a> {
    /// The homework's title.
    pub(super) title: &'a str,
    /// The homework's code.
    pub(super) code: &'a str,
    /// The sheet's version.
    pub(super) version: &'a str,
    /// Whether there are other versions.
    pub(super) has_versions: bool,
    /// The numbers of the questions.
    pub(super) numbers: &'a [&'a str],
    /// The questions, each as HTML.
    pub(super) sections: &'a [String],
}

/// The keys, and what they do.
const KEYS: &[(&str, &str)] = &[
    ("Space", "turn or pause"),
    ("\u{2190} \u{2192}", "other question"),
    ("A", "answer"),
    ("S", "slowly"),
    ("R", "from the start"),
    ("T", "try to turn"),
];

/// Returns the text of the page.
pub(super) fn page(content: &Content<'_>) -> String {
    let title = html::text(content.title);
    let version = if content.has_versions {
        format!(" \u{b7} sheet {}", html::text(content.version))
    } else {
        String::new()
    };
    // The page asks nothing of any network, whatever may come to stand in it.
    let policy = format!(
        "default-src 'none'; script-src {}; style-src {}; base-uri 'none'; form-action 'none'",
        html::fingerprint(SCRIPT),
        html::fingerprint(STYLE)
    );
    let mut text = format!(
        "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{title}{version}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n\
         <header>\n<h1>{title}<small>{}{version}</small></h1>\n\
         <nav aria-label=\"Questions\"><ol>",
        html::text(content.code)
    );
    for number in content.numbers {
        let number = html::text(number);
        add!(
            text,
            "<li><a href=\"#q{number}\" aria-label=\"Question {number}\">{number}</a></li>"
        );
    }
    text.push_str("</ol></nav>\n</header>\n<main>\n");
    for section in content.sections {
        text.push_str(section);
    }
    text.push_str(
        "</main>\n<footer>\n<div class=\"turn-page\">\
         <button type=\"button\" id=\"previous\">\u{2190} Previous</button>\
         <button type=\"button\" id=\"next\">Next \u{2192}</button></div>\n\
         <p class=\"keys\">",
    );
    for (key, does) in KEYS {
        add!(text, "<span><kbd>{key}</kbd> {does}</span> ");
    }
    add!(
        text,
        "</p>\n</footer>\n<p id=\"said\" class=\"unseen\" role=\"status\" \
         aria-live=\"polite\"></p>\n<script>{SCRIPT}</script>\n</body>\n</html>\n"
    );
    text
}
