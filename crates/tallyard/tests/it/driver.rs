//! A headless Chromium, driven over WebDriver (W3C Recommendation of 2018, HTTP and JSON).
//!
//! A client of our own, because the ready ones change the features of crates that the typesetter shares with them,
//! and have it built twice.

use std::io::{BufRead, BufReader};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;

const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";
const PATIENCE: Duration = Duration::from_secs(60);

/// A browser with one window; it goes with the test.
pub struct Browser {
    driver: Child,
    agent: ureq::Agent,
    session: String,
    /// Its profile, new and empty, and chromedriver's home.
    _home: TempDir,
}

/// Whose certificates a browser takes.
#[derive(Clone, Copy)]
pub enum Trusts<'a> {
    /// Anyone's, without a warning.
    Anyone,
    /// Those of public authorities, and those that this one (DER) vouches for.
    Only(&'a [u8]),
}

/// An element of the page that is open.
#[derive(Clone, Debug)]
pub struct Element(String);

impl Browser {
    /// Opens a browser whose page is so many CSS pixels wide and high; narrow ones are phones.
    pub fn open(width: u32, height: u32) -> Self {
        Self::open_with(width, height, &[], Trusts::Anyone)
    }

    /// The same, with more arguments to the browser, and a say in whom it trusts.
    pub fn open_with(width: u32, height: u32, more: &[&str], trusts: Trusts<'_>) -> Self {
        let home = TempDir::new().unwrap();
        if let Trusts::Only(certificate) = trusts {
            trust(home.path(), certificate);
        }
        let mut driver = Command::new("chromedriver")
            .arg("--port=0")
            .env("HOME", home.path())
            .env("TZ", "UTC")
            .process_group(0)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver is there; ./test installs it");
        let port = port(driver.stdout.take().unwrap());
        let agent = ureq::Agent::config_builder()
            .http_status_as_error(false)
            .timeout_global(Some(PATIENCE))
            .build()
            .new_agent();
        let mut browser = Self {
            driver,
            agent,
            session: format!("http://127.0.0.1:{port}/session"),
            _home: home,
        };
        let profile = browser._home.path().join("profile");
        let mut arguments = vec![
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
        ];
        let profile = format!("--user-data-dir={}", profile.display());
        arguments.push(&profile);
        arguments.extend(more);
        let wanted = json!({"capabilities": {"alwaysMatch": {
            "acceptInsecureCerts": matches!(trusts, Trusts::Anyone),
            "goog:chromeOptions": {"args": arguments},
            "goog:loggingPrefs": {"browser": "ALL"},
        }}});
        let session = browser.ask("", Some(wanted));
        browser.session = format!(
            "{}/{}",
            browser.session,
            session["sessionId"].as_str().unwrap()
        );
        browser.resize(width, height);
        browser
    }

    /// Makes the page so many CSS pixels wide and high.
    pub fn resize(&self, width: u32, height: u32) {
        let size = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 700});
        let command = json!({"cmd": "Emulation.setDeviceMetricsOverride", "params": size});
        self.ask("/goog/cdp/execute", Some(command));
    }

    /// Makes the page's network slow: each answer later by so many milliseconds, and so many bytes a second each way;
    /// 0 and 0 let go of it.
    pub fn slow(&self, latency: u32, bytes_a_second: u32) {
        if bytes_a_second == 0 {
            let address = format!("{}/chromium/network_conditions", self.session);
            self.agent.delete(&address).call().unwrap();
            return;
        }
        let conditions = json!({"offline": false, "latency": latency,
            "download_throughput": bytes_a_second, "upload_throughput": bytes_a_second});
        let body = json!({"network_conditions": conditions});
        self.ask("/chromium/network_conditions", Some(body));
    }

    pub fn go(&self, address: &str) {
        self.ask("/url", Some(json!({"url": address})));
    }

    /// The path and query of the page that is open.
    pub fn path(&self) -> String {
        self.run("return location.pathname + location.search")
            .as_str()
            .unwrap()
            .into()
    }

    /// Runs JavaScript in the page; `return` gives the answer.
    pub fn run(&self, script: &str) -> Value {
        self.ask("/execute/sync", Some(json!({"script": script, "args": []})))
    }

    /// The same of a script that calls its last argument when it is done.
    pub fn run_until_called(&self, script: &str) -> Value {
        self.ask(
            "/execute/async",
            Some(json!({"script": script, "args": []})),
        )
    }

    /// Waits until a script returns true.
    pub fn wait(&self, what: &str, script: &str) {
        let begun = Instant::now();
        while self.run(script) != Value::Bool(true) {
            assert!(
                begun.elapsed() < PATIENCE,
                "{what} does not come; at {}",
                self.path()
            );
            std::thread::yield_now();
        }
    }

    /// The first element that a CSS selector finds.
    pub fn find(&self, css: &str) -> Element {
        let found = self.ask(
            "/element",
            Some(json!({"using": "css selector", "value": css})),
        );
        Element(found[ELEMENT].as_str().unwrap().into())
    }

    /// A real click on the middle of an element, scrolled to as people do; what lies over it is hit in its place.
    pub fn click(&self, css: &str) {
        let to = json!(css);
        self.run(&format!(
            "document.querySelector({to})?.scrollIntoView({{block: 'center'}})"
        ));
        let Element(id) = self.find(css);
        self.ask(&format!("/element/{id}/click"), Some(json!({})));
    }

    /// Types into a field, or names the file to send in a file field.
    pub fn fill(&self, css: &str, text: &str) {
        let Element(id) = self.find(css);
        self.ask(&format!("/element/{id}/value"), Some(json!({"text": text})));
    }

    /// Empties a text field.
    pub fn clear(&self, css: &str) {
        let Element(id) = self.find(css);
        self.ask(&format!("/element/{id}/clear"), Some(json!({})));
    }

    /// Presses a key, wherever the focus is; special keys stand in the private use area (WebDriver, 17.4.2).
    pub fn press(&self, key: char) {
        let keys = json!([{"type": "keyDown", "value": key}, {"type": "keyUp", "value": key}]);
        let keyboard = json!({"actions": [{"type": "key", "id": "keyboard", "actions": keys}]});
        self.ask("/actions", Some(keyboard));
    }

    /// What people read in an element.
    pub fn text(&self, css: &str) -> String {
        let Element(id) = self.find(css);
        self.ask(&format!("/element/{id}/text"), None)
            .as_str()
            .unwrap()
            .into()
    }

    /// Sends a form by its button, and waits for the page after it.
    pub fn submit(&self, css: &str) {
        self.run("window.beforeSubmit = true");
        self.click(css);
        self.wait(
            "the page after the form",
            "return !window.beforeSubmit && document.readyState === 'complete'",
        );
    }

    /// What the console has said since this was last asked: script errors, refusals by the page's policy.
    pub fn complaints(&self) -> Vec<String> {
        let log = self.ask("/se/log", Some(json!({"type": "browser"})));
        log.as_array()
            .unwrap()
            .iter()
            .map(|entry| entry["message"].as_str().unwrap().into())
            .collect()
    }

    /// Sends a command of WebDriver's and returns its answer; without a body it is asked with GET.
    pub fn ask(&self, path: &str, body: Option<Value>) -> Value {
        let address = format!("{}{path}", self.session);
        let answer = match &body {
            Some(body) => self
                .agent
                .post(&address)
                .content_type("application/json")
                .send(body.to_string()),
            None => self.agent.get(&address).call(),
        };
        let text = answer
            .unwrap()
            .body_mut()
            .with_config()
            .limit(64 << 20)
            .read_to_string()
            .unwrap();
        let mut answer: Value = serde_json::from_str(&text).unwrap();
        let value = answer["value"].take();
        assert!(
            value.get("error").is_none(),
            "{path} {body:?}: {}",
            value["message"]
        );
        value
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        // The browser is the driver's child: ask first, then end whatever is left of the group.
        let _ = self.agent.delete(&self.session).call();
        let group = format!("-{}", self.driver.id());
        let _ = Command::new("kill")
            .args(["-KILL", "--", &group])
            .stderr(Stdio::null())
            .status();
        let _ = self.driver.wait();
    }
}

/// Has the browser of a home trust an authority, as people do in its settings.
fn trust(home: &Path, certificate: &[u8]) {
    let store = home.join(".pki/nssdb");
    std::fs::create_dir_all(&store).unwrap();
    std::fs::write(home.join("authority.crt"), certificate).unwrap();
    let run = |arguments: &[&str]| {
        let ran = Command::new("certutil")
            .arg("-d")
            .arg(format!("sql:{}", store.display()))
            .args(arguments)
            .current_dir(home)
            .status()
            .expect("certutil is there; ./test installs it");
        assert!(ran.success(), "{arguments:?}");
    };
    run(&["-N", "--empty-password"]);
    run(&["-A", "-t", "C,,", "-n", "authority", "-i", "authority.crt"]);
}

/// The port that chromedriver chose; it says so in words.
fn port(out: std::process::ChildStdout) -> u16 {
    let mut lines = BufReader::new(out).lines();
    let said = "started successfully on port ";
    let port = lines.by_ref().map(Result::unwrap).find_map(|line| {
        let (_, port) = line.split_once(said)?;
        port.trim_end_matches('.').parse().ok()
    });
    // Read on, so that it never waits for a reader.
    std::thread::spawn(move || lines.for_each(drop));
    port.expect("chromedriver says its port")
}
