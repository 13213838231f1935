//! The page for the classroom screen, in a browser and as text.

use crate::banks;
use crate::browser::Browser;
use crate::program::Program;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;
use std::thread;
use std::time::{Duration, Instant};
use toothmark::homework;
use toothmark::item::pool;
use toothmark::screen;
use toothmark::seed;

/// What a person may type as a title.
const TITLE: &str = "Gears <script>alert('x')</script> & \"more\"";

/// Every shipped question once, at its lowest level.
fn everything() -> homework::Homework {
    let mut items = Vec::new();
    let mut position = 0;
    for bank in banks::shipped() {
        for template in &bank.templates {
            let mut stream = seed::Stream::named(&["screen", &template.id], 0);
            let pool = pool::fill(template, template.levels[0], 2, &mut stream);
            let version = pool.kinds.iter().flatten().next();
            position += 1;
            let setting = pool::Setting {
                bank: &bank.id,
                position,
                story: 0,
            };
            let version = version.expect("a shipped template has a version");
            items.extend(pool.items(version, &setting));
        }
    }
    homework::Homework {
        made_by: "0.1.0".to_owned(),
        code: "SCREEN".to_owned(),
        title: TITLE.to_owned(),
        date: "2026-03-02".to_owned(),
        keep_until: None,
        banks: Vec::new(),
        seed: "screen".to_owned(),
        sheets: vec![homework::Sheet {
            version: "A".to_owned(),
            items,
        }],
        pupils: vec![homework::Assignment {
            pupil: homework::Pupil {
                id: "P07".to_owned(),
                name: "Zoë Quill".to_owned(),
                class: "7K".to_owned(),
                year: "7".to_owned(),
                level: None,
                groups: BTreeMap::new(),
            },
            sheet: 0,
        }],
    }
}

/// The homework with its page; made once for all tests.
pub(crate) static SHOWN: LazyLock<(homework::Homework, String)> = LazyLock::new(|| {
    let homework = everything();
    let page = screen::page(&homework, &homework.sheets[0]).expect("every answer is there");
    (homework, page)
});

/// A page in a folder of its own.
pub(crate) struct Page {
    folder: tempfile::TempDir,
}

impl Page {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("screen.html"), &SHOWN.1).expect("written");
        Self { folder }
    }

    pub(crate) fn path(&self) -> PathBuf {
        self.folder.path().join("screen.html")
    }
}

/// A number that the browser gave.
pub(crate) fn number_of(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// Waits until something holds on the page: a computer may have much else to do.
fn wait_until(browser: &Browser, holds: &str) {
    let begun = Instant::now();
    while browser.script(&format!("return {holds}")) != true {
        assert!(begun.elapsed() < Duration::from_mins(1), "never: {holds}");
        thread::sleep(Duration::from_millis(20));
    }
}

/// Goes to the question in which a selector finds something.
fn go_to(browser: &Browser, selector: &str) {
    browser.script(&format!(
        "location.hash = document.querySelector('{selector}').closest('.question').id"
    ));
    let is_there = "document.querySelector('.current').id === location.hash.slice(1)";
    wait_until(browser, is_there);
}

/// How many seconds of the page's clock pass in a second.
fn pace(browser: &Browser) -> f64 {
    number_of(&browser.script(
        "return new Promise((done) => {
             const [begun, before] = [performance.now(), toothmark.clock.seconds];
             setTimeout(() => done(
                 (toothmark.clock.seconds - before) / (performance.now() - begun) * 1000), 400);
         })",
    ))
}

/// Waits a little; the page's clock runs meanwhile if it runs at all.
fn a_moment() {
    thread::sleep(Duration::from_millis(400));
}

fn seconds(browser: &Browser) -> f64 {
    number_of(&browser.script("return toothmark.clock.seconds"))
}

#[test]
fn the_keys_work_and_nothing_is_told_before_it_is_asked_for() {
    let Some(browser) = Browser::start() else {
        return;
    };
    let page = Page::new();
    browser.open(&page.path());
    let shown = browser.script(
        "return [...document.querySelectorAll('.answer, .after, .remark')].filter((it) => it.checkVisibility()).length",
    );
    assert_eq!(shown, 0, "answers are hidden first");
    go_to(&browser, "[data-held][data-turns]");
    let first = browser.script("return document.querySelector('.current').id");
    browser.press(&[" "]);
    a_moment();
    assert!(
        seconds(&browser) < 1e-9,
        "it stands still while its motion is asked"
    );
    let answers = "return document.querySelectorAll('.current .answer:not([hidden])').length";
    assert_eq!(browser.script(answers), 0);
    let parts = browser.script("return document.querySelectorAll('.current .part').length");
    for _ in 0..parts.as_u64().expect("a count") {
        browser.press(&["a"]);
    }
    assert_eq!(browser.script(answers), parts);
    let said = "return document.getElementById('said').textContent";
    assert!(
        browser
            .script(said)
            .as_str()
            .is_some_and(|it| it.starts_with("Answer: "))
    );
    // It turns once the answer is shown.
    wait_until(&browser, "toothmark.clock.seconds > 0");
    browser.press(&[" "]);
    let stopped = seconds(&browser);
    a_moment();
    assert!((seconds(&browser) - stopped).abs() < 1e-9, "it is paused");
    browser.press(&["s", " "]);
    let slowly = pace(&browser);
    assert!(slowly > 0.0 && slowly < 0.4, "it turns slowly: {slowly}");
    browser.press(&[" ", "r"]);
    assert!(seconds(&browser) < 1e-9, "it is at its start");
    browser.press(&["\u{e014}"]);
    let now = browser.script(
        "return [document.querySelector('.current').id, document.activeElement.id, location.hash.slice(1)]",
    );
    assert_ne!(now[0], first);
    assert!(now[0] == now[1] && now[1] == now[2], "{now}");
    browser.press(&["\u{e012}"]);
    assert_eq!(
        browser.script("return document.querySelector('.current').id"),
        first
    );
    browser.press(&["a"]);
    let hidden = browser.script(answers);
    assert_eq!(hidden, 0, "with all shown, the key hides them");
}

#[test]
fn what_cannot_turn_is_tried_and_does_not() {
    let Some(browser) = Browser::start() else {
        return;
    };
    let page = Page::new();
    browser.open(&page.path());
    go_to(&browser, "[data-stuck]");
    let said = "return document.getElementById('said').textContent";
    browser.press(&["t"]);
    assert_ne!(
        browser.script(said),
        "It does not turn.",
        "not before the answer"
    );
    browser.script("document.querySelectorAll('.current .show').forEach((it) => it.click())");
    browser.press(&["t"]);
    assert_eq!(browser.script(said), "It does not turn.");
    assert!(seconds(&browser) < 1e-9);
}

#[test]
fn with_reduced_motion_nothing_runs_and_a_key_turns_a_quarter() {
    let Some(browser) = Browser::start() else {
        return;
    };
    let page = Page::new();
    browser.prefer("prefers-reduced-motion", "reduce");
    browser.open(&page.path());
    go_to(
        &browser,
        "[data-turns]:not(:has([data-forth])):not(:has(.after))",
    );
    browser.script("document.querySelectorAll('.current .show').forEach((it) => it.click())");
    a_moment();
    assert!(seconds(&browser) < 1e-9, "nothing runs by itself");
    browser.press(&[" "]);
    let turned = browser.script(
        "const wheels = [...document.querySelectorAll('.current [data-move=wheel]')];
         const drive = wheels.find((it) => Math.abs(Number(it.dataset.turns)) === 1);
         const frame = drive.ownerSVGElement.getScreenCTM().inverse()
             .multiply(drive.getScreenCTM());
         return Math.abs(Math.atan2(frame.b, frame.a)) * 180 / Math.PI;",
    );
    assert!((number_of(&turned) - 90.0).abs() < 0.01, "{turned}");
    let after = seconds(&browser);
    a_moment();
    assert!((seconds(&browser) - after).abs() < 1e-9);
    let play = "return document.querySelector('.current .play').textContent";
    assert_eq!(browser.script(play), "A quarter turn");
}

#[test]
fn the_page_asks_nothing_of_a_network_and_everything_has_a_name() {
    let Some(browser) = Browser::start() else {
        return;
    };
    let page = Page::new();
    browser.open(&page.path());
    browser.reload();
    let names = browser.script(
        "return [...document.querySelectorAll('button, a, svg[role=img], section, nav')]
             .filter((it) => !(it.getAttribute('aria-label') || it.textContent).trim()).length",
    );
    assert_eq!(names, 0, "a button, link, picture or region has no name");
    let broken = browser.script(
        "const ids = [...document.querySelectorAll('[id]')].map((it) => it.id);
         const named = [...document.querySelectorAll('[aria-controls], [aria-labelledby], [aria-describedby]')];
         return [
             ids.length - new Set(ids).size,
             named.flatMap((it) => ['aria-controls', 'aria-labelledby', 'aria-describedby']
                 .map((name) => it.getAttribute(name))
                 .filter((id) => id && !document.getElementById(id))).length,
             document.querySelectorAll('h1').length,
             document.querySelectorAll('.question:not(:has(> h2))').length,
             document.querySelectorAll('[tabindex]:not([tabindex=\"-1\"])').length,
             document.scripts.length,
         ]",
    );
    assert_eq!(broken, serde_json::json!([0, 0, 1, 0, 0, 1]));
    let heading = browser.script("return document.querySelector('h1').firstChild.textContent");
    assert_eq!(heading, TITLE, "a title is text");
    // Going through with the tab key meets what is seen in the order of the page.
    let seen = browser.script(
        "return [...document.querySelectorAll('a, button')]
             .filter((it) => it.checkVisibility() && !it.disabled).map((it) => it.textContent)",
    );
    let seen = seen.as_array().expect("a list");
    assert!(seen.len() > 10);
    let mut met = Vec::new();
    for _ in seen {
        browser.press(&["\u{e004}"]);
        met.push(browser.script("return document.activeElement.textContent"));
    }
    assert_eq!(&met, seen);
    let outline = "return getComputedStyle(document.activeElement).outlineStyle";
    assert_eq!(browser.script(outline), "solid", "the focus is seen");
    assert_eq!(browser.log("browser"), Vec::<String>::new());
    let asked: Vec<String> = browser
        .log("performance")
        .iter()
        .filter_map(|entry| {
            let entry: Value = serde_json::from_str(entry).expect("JSON");
            let message = &entry["message"];
            (message["method"] == "Network.requestWillBeSent").then(|| {
                message["params"]["request"]["url"]
                    .as_str()
                    .map(str::to_owned)
            })?
        })
        .collect();
    let own = format!("file://{}", page.path().display());
    assert!(
        !asked.is_empty() && asked.iter().all(|url| *url == own),
        "{asked:?}"
    );
    // And if it would, it may not.
    let refused = browser.script(
        "return new Promise((done) => {
             addEventListener('securitypolicyviolation', (it) => done(it.effectiveDirective));
             fetch('http://127.0.0.1:9/').catch(() => {});
         })",
    );
    assert_eq!(refused, "connect-src");
}

#[test]
fn no_pupil_is_named_and_the_same_homework_gives_the_same_page() {
    let (homework, page) = &*SHOWN;
    for private in ["Quill", "P07", "7K"] {
        assert!(!page.contains(private), "{private}");
    }
    assert!(!page.contains("<script>alert"));
    let again = screen::page(homework, &homework.sheets[0]).expect("every answer is there");
    assert_eq!(*page, again);
}

#[test]
fn show_writes_the_sheet_that_was_asked_for() {
    let bank = crate::program::root().join("question-banks/gears-7-11.toml");
    let set = Program::new()
        .file(
            "roll.csv",
            "pupil id,name,class,year\nP1,Ann,4B,4\nP2,Bo,4B,4\n",
        )
        .arguments(["set", "--bank"])
        .argument(bank)
        .arguments(["--roll", "roll.csv", "--level", "3", "--questions", "2"])
        .arguments(["--versions", "each", "--seed", "s", "--date", "2026-03-02"])
        .arguments(["--out", "week"]);
    set.run().succeeded();
    let record = set.read("week/homework.json");
    let homework = homework::from_json(&record, "homework.json").expect("a record");
    let sheet_of = |pupil: usize| &homework.sheets[homework.pupils[pupil].sheet].version;
    let show = set
        .anew()
        .arguments(["show", "week", "--out", "first.html"]);
    let run = show.run().succeeded();
    assert!(run.stdout.contains("first.html"), "{}", run.stdout);
    let first = show.read("first.html");
    assert!(first.contains(&format!("sheet {}<", homework.sheets[0].version)));
    let show = show
        .anew()
        .arguments(["show", "week/homework.json", "--pupil", "P2"]);
    let show = show.arguments(["--out", "second.html"]);
    show.run().succeeded();
    assert!(
        show.read("second.html")
            .contains(&format!("sheet {}<", sheet_of(1)))
    );
    let by_sheet = show
        .anew()
        .arguments(["show", "week", "--sheet", sheet_of(1)]);
    let by_sheet = by_sheet.arguments(["--out", "second.html"]);
    by_sheet.run().succeeded();
    let wrong = by_sheet
        .anew()
        .arguments(["show", "week", "--sheet", "ZZ", "--out", "x.html"]);
    let run = wrong.run().ended_with(1);
    assert!(
        run.stderr.contains("there is no sheet \"ZZ\""),
        "{}",
        run.stderr
    );
    assert!(
        run.stderr.contains(&homework.sheets[0].version),
        "{}",
        run.stderr
    );
    let wrong = wrong
        .anew()
        .arguments(["show", "week", "--pupil", "P9", "--out", "x.html"]);
    let run = wrong.run().ended_with(1);
    assert!(
        run.stderr.contains("no pupil with the id \"P9\""),
        "{}",
        run.stderr
    );
    let over = wrong
        .anew()
        .arguments(["show", "week", "--pupil", "P2", "--out", "first.html"]);
    over.run().ended_with(1);
    assert_eq!(over.read("first.html"), first, "another file stays");
}
