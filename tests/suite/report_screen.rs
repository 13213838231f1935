//! The page of a review in a browser.

use crate::browser::Browser;
use crate::report::summary;
use std::fs;
use toothmark::report;

#[test]
fn the_page_fits_a_telephone_asks_no_network_and_prints() {
    let Some(browser) = Browser::start() else {
        return;
    };
    let folder = tempfile::tempdir().expect("a folder");
    let page = folder.path().join("attainment.html");
    fs::write(&page, report::page(&summary())).expect("written");
    for (width, height) in [(1280, 900), (360, 740)] {
        browser.resize(width, height);
        browser.open(&page);
        let found = browser.script(
            "const root = document.documentElement;
             return [innerWidth, root.scrollWidth, document.querySelectorAll('.dots').length]",
        );
        assert_eq!(found[0], width);
        assert!(
            found[1].as_i64() <= Some(width),
            "wider than {width}: {found}"
        );
        assert!(
            found[2].as_i64() >= Some(7),
            "the charts are there: {found}"
        );
    }
    // Where a table is wider than the screen, the keyboard reaches and moves it.
    let reached = browser.script(
        "const wide = [...document.querySelectorAll('.scroll')]
             .filter((it) => it.scrollWidth > it.clientWidth);
         return [wide.length, wide.every((it) => { it.focus(); return document.activeElement === it })]",
    );
    assert!(
        reached[0].as_i64() > Some(0),
        "a telephone is narrow: {reached}"
    );
    assert_eq!(reached[1], true);
    // The first stop of the keyboard leads past the list of contents.
    browser.open(&page);
    browser.press(&["\u{e004}"]);
    let skips =
        browser.script("return document.activeElement.className + document.activeElement.hash");
    assert_eq!(skips, "skip#front");
    // Text does not lie over text in any chart.
    let over = browser.script(
        "return [...document.querySelectorAll('.dots')].flatMap((chart) => {
             const boxes = [...chart.querySelectorAll('text')].map((it) =>
                 Object.assign(it.getBoundingClientRect(), {text: it.textContent}));
             return boxes.flatMap((one, at) => boxes.slice(at + 1).filter((other) =>
                 one.left < other.right - 1 && other.left < one.right - 1
                 && one.top < other.bottom - 3 && other.top < one.bottom - 3)
                 .map((other) => one.text + ' / ' + other.text))
         })",
    );
    assert_eq!(
        over.as_array().map(Vec::len),
        Some(0),
        "text lies over text: {over}"
    );
    let printed = browser.print();
    let document = lopdf::Document::load_mem(&printed).expect("it is a PDF");
    assert!(document.get_pages().len() >= 4);
    // Closed tables are printed too.
    browser.script("document.querySelectorAll('details').forEach((it) => { it.open = false })");
    let closed = lopdf::Document::load_mem(&browser.print()).expect("it is a PDF");
    assert_eq!(closed.get_pages().len(), document.get_pages().len());
    let complaints = browser.log("browser");
    assert!(complaints.is_empty(), "{complaints:?}");
    let asked: Vec<String> = browser
        .log("performance")
        .into_iter()
        .filter(|it| it.contains("Network.requestWillBeSent\"") && !it.contains("file://"))
        .collect();
    assert!(asked.is_empty(), "{asked:?}");
}
