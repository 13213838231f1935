//! A browser that tests drive: Chromium without a window, through `WebDriver`.
//!
//! Where Chromium or its driver is missing a test says so and has nothing to check;
//! with `TOOTHMARK_REQUIRE_CHROMIUM=1`, which `.ci/run` sets, it fails instead.

use serde_json::{Value, json};
use std::env;
use std::io::{self, BufRead, BufReader, Write as _};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// A browser with its driver; both end with it.
pub(crate) struct Browser {
    driver: Child,
    /// The address of the session.
    session: String,
    agent: ureq::Agent,
}

impl Browser {
    /// Starts a browser; none where it is not installed.
    pub(crate) fn start() -> Option<Self> {
        let started = Command::new("chromedriver")
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn();
        let Ok(mut driver) = started else {
            let must_be_there =
                env::var("TOOTHMARK_REQUIRE_CHROMIUM").is_ok_and(|value| value == "1");
            assert!(!must_be_there, "Chromium's driver is not installed");
            let remark = "Chromium's driver is not installed: nothing was checked here";
            writeln!(io::stderr(), "{remark}").expect("the error stream can be written to");
            return None;
        };
        let address = format!("http://127.0.0.1:{}", port(&mut driver));
        let agent: ureq::Agent = ureq::Agent::config_builder()
            .timeout_global(Some(Duration::from_mins(2)))
            .http_status_as_error(false)
            .build()
            .into();
        let mut browser = Self {
            driver,
            session: address.clone(),
            agent,
        };
        let made = browser.post("/session", &capabilities());
        let id = made["sessionId"].as_str().expect("a session has an id");
        browser.session = format!("{address}/session/{id}");
        Some(browser)
    }

    /// Opens a page of a file.
    pub(crate) fn open(&self, page: &Path) {
        let url = format!("file://{}", page.display());
        self.post("/url", &json!({ "url": url }));
    }

    /// Loads the page anew.
    pub(crate) fn reload(&self) {
        self.post("/refresh", &json!({}));
    }

    /// Runs a script on the page and returns what it returns.
    pub(crate) fn script(&self, code: &str) -> Value {
        self.post("/execute/sync", &json!({ "script": code, "args": [] }))
    }

    /// Presses keys, one after the other, as a person would.
    pub(crate) fn press(&self, keys: &[&str]) {
        let strokes: Vec<Value> = keys
            .iter()
            .flat_map(|key| {
                ["keyDown", "keyUp"].map(|stroke| json!({ "type": stroke, "value": key }))
            })
            .collect();
        let keyboard = json!({ "type": "key", "id": "keyboard", "actions": strokes });
        self.post("/actions", &json!({ "actions": [keyboard] }));
    }

    /// Makes the browser prefer something, as a person's system would.
    pub(crate) fn prefer(&self, feature: &str, value: &str) {
        let features = json!({ "features": [{ "name": feature, "value": value }] });
        let command = json!({ "cmd": "Emulation.setEmulatedMedia", "params": features });
        self.post("/goog/cdp/execute", &command);
    }

    /// Gives the page so many pixels, as a telephone or a tablet would.
    pub(crate) fn resize(&self, width: i64, height: i64) {
        let metrics = json!({
            "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false
        });
        let command = json!({ "cmd": "Emulation.setDeviceMetricsOverride", "params": metrics });
        self.post("/goog/cdp/execute", &command);
    }

    /// Prints the page and returns the PDF.
    pub(crate) fn print(&self) -> Vec<u8> {
        let command = json!({
            "cmd": "Page.printToPDF",
            "params": { "preferCSSPageSize": true, "transferMode": "ReturnAsBase64" }
        });
        let printed = self.post("/goog/cdp/execute", &command);
        from_base64(printed["data"].as_str().expect("the PDF as text"))
    }

    /// What was told to a log (`browser`, `performance`) since it was last asked for.
    pub(crate) fn log(&self, kind: &str) -> Vec<String> {
        let entries = self.post("/se/log", &json!({ "type": kind }));
        let entries = entries.as_array().expect("a log is a list");
        let messages = entries.iter().filter_map(|it| it["message"].as_str());
        messages.map(str::to_owned).collect()
    }

    fn post(&self, path: &str, body: &Value) -> Value {
        let url = format!("{}{path}", self.session);
        let answered = self
            .agent
            .post(&url)
            .content_type("application/json")
            .send(body.to_string());
        let mut answered = answered.unwrap_or_else(|error| panic!("{path}: {error}"));
        let text = answered.body_mut().with_config().limit(100_000_000);
        let text = text.read_to_string().expect("the answer can be read");
        let mut answer: Value = serde_json::from_str(&text).expect("the driver answers in JSON");
        let value = answer["value"].take();
        assert!(value["error"].is_null(), "{path}: {value}");
        value
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        // Without this the browser would outlive its driver.
        let ended = self.agent.delete(&self.session).call();
        let killed = self.driver.kill();
        let waited = self.driver.wait();
        if let (Err(error), false) = (ended, std::thread::panicking()) {
            panic!("the browser did not end: {error} {killed:?} {waited:?}");
        }
    }
}

/// The bytes of a text in Base64. Source: RFC 4648, section 4.
fn from_base64(text: &str) -> Vec<u8> {
    const SIGNS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut bytes = Vec::new();
    let (mut bits, mut many) = (0_u32, 0);
    for sign in text.bytes().filter(|sign| *sign != b'=') {
        let value = SIGNS.iter().position(|it| *it == sign);
        let value = value.expect("a sign of Base64");
        bits = (bits << 6 | u32::try_from(value).expect("six bits")) & 0xffff;
        many += 6;
        if many >= 8 {
            many -= 8;
            bytes.push(u8::try_from(bits >> many & 255).expect("eight bits"));
        }
    }
    bytes
}

/// Reads which port the driver took.
fn port(driver: &mut Child) -> u16 {
    let output = driver.stdout.take().expect("its output is read here");
    let mut lines = BufReader::new(output).lines();
    let told = lines.find_map(|line| {
        let line = line.expect("its output is text");
        let (_, port) = line.split_once("successfully on port ")?;
        port.trim_end_matches('.').parse().ok()
    });
    told.expect("the driver says its port")
}

fn capabilities() -> Value {
    let mut arguments = vec!["--headless=new", "--window-size=1600,900"];
    if is_root() {
        // Chromium's sandbox does not run for root, as in a container.
        arguments.push("--no-sandbox");
    }
    json!({ "capabilities": { "alwaysMatch": {
        "goog:chromeOptions": { "args": arguments },
        "goog:loggingPrefs": { "browser": "ALL", "performance": "ALL" },
    } } })
}

#[cfg(unix)]
fn is_root() -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let file = tempfile::tempfile().expect("a file");
    file.metadata().expect("the file is there").uid() == 0
}

#[cfg(not(unix))]
fn is_root() -> bool {
    false
}
