//! A yard that runs for a test, and a phone that talks plain HTTP to it.

use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::mpsc;
use std::time::Duration;

use serde_json::Value;

/// How long anything may take before a test gives up.
pub const PATIENCE: Duration = Duration::from_secs(60);

/// A served job; the server goes with it.
pub struct Running {
    child: Child,
    job: PathBuf,
    pub opened: Value,
}

impl Running {
    /// Opens a yard with `program`, on a port that the system chooses.
    pub fn open(program: &str, job: &Path) -> Self {
        Self::open_with(program, job, &[])
    }

    /// The same, with more arguments.
    pub fn open_with(program: &str, job: &Path, more: &[&Path]) -> Self {
        let mut child = Command::new(program)
            .arg("yard")
            .arg(job)
            .args(["--listen", "127.0.0.1:0", "--json"])
            .args(more)
            .env_clear()
            .env("TZ", "UTC")
            // What phones trust it by is the test's alone.
            .env("XDG_DATA_HOME", job.parent().unwrap())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let mut said = String::new();
        while !said.ends_with("}\n") {
            let read = out.read_line(&mut said).unwrap();
            assert_ne!(read, 0, "the yard ended after saying {said:?}");
        }
        child.stdout = Some(out.into_inner());
        Self {
            child,
            job: job.into(),
            opened: serde_json::from_str(&said).unwrap(),
        }
    }

    pub fn said(&self, field: &str) -> &str {
        self.opened[field].as_str().unwrap()
    }

    /// A phone that has joined under a name.
    pub fn joined(&self, who: &str) -> Phone {
        let mut phone = self.stranger();
        let answer = phone.post("/join", &[("code", self.said("join_code")), ("who", who)]);
        assert_eq!(answer.status, 303, "{}", answer.text());
        let cookie = answer
            .header("set-cookie")
            .expect("a phone that joins gets a cookie");
        phone.cookie = Some(cookie.split(';').next().unwrap().into());
        phone
    }

    /// A phone that has not joined.
    pub fn stranger(&self) -> Phone {
        self.showing(None)
    }

    /// A phone that shows a cookie that it has from elsewhere.
    pub fn showing(&self, cookie: Option<String>) -> Phone {
        let agent = ureq::Agent::config_builder()
            .http_status_as_error(false)
            .max_redirects(0)
            // A connection whose request was refused unread is closed by the server, and may not be taken up again.
            .max_idle_connections(0)
            .timeout_global(Some(PATIENCE))
            .build()
            .new_agent();
        Phone {
            agent,
            address: self.said("address").into(),
            cookie,
        }
    }

    /// The events that are on disk now.
    pub fn log(&self) -> Vec<tally::Event> {
        let log = store::Job::open(&self.job).unwrap().events().unwrap();
        assert!(log.unread.is_empty());
        log.events
    }

    /// Ends it as a power cut would.
    pub fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    /// Ends it as Ctrl-C does, and waits until it has gone.
    pub fn stop(mut self) -> ExitStatus {
        let pid = self.child.id().to_string();
        assert!(
            Command::new("kill")
                .args(["-INT", &pid])
                .status()
                .unwrap()
                .success()
        );
        let mut out = self.child.stdout.take().unwrap();
        let (gone, hears) = mpsc::channel();
        std::thread::spawn(move || gone.send(out.read_to_string(&mut String::new())));
        hears
            .recv_timeout(PATIENCE)
            .expect("the yard stops when it is told to")
            .unwrap();
        self.child.wait().unwrap()
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have gone already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A plain HTTP client that keeps its connection, follows nothing, and shows its cookie.
#[derive(Clone)]
pub struct Phone {
    agent: ureq::Agent,
    pub address: String,
    pub cookie: Option<String>,
}

#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    headers: ureq::http::HeaderMap,
    pub body: Vec<u8>,
}

impl Phone {
    pub fn get(&self, path: &str) -> Answer {
        self.send("GET", path, &[], Vec::new()).unwrap()
    }

    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.try_post(path, fields).unwrap()
    }

    /// The same, where the server may be gone.
    pub fn try_post(&self, path: &str, fields: &[(&str, &str)]) -> Result<Answer, ureq::Error> {
        let form = [("content-type", "application/x-www-form-urlencoded")];
        self.send("POST", path, &form, encoded(fields).into_bytes())
    }

    /// Sends a packing list as the list page's form does.
    pub fn upload(&self, id: &str, name: &str, list: &[u8]) -> Answer {
        let edge = "----edge";
        let mut body = format!(
            "--{edge}\r\nContent-Disposition: form-data; name=\"id\"\r\n\r\n{id}\r\n\
             --{edge}\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\
             Content-Type: application/octet-stream\r\n\r\n"
        )
        .into_bytes();
        body.extend_from_slice(list);
        body.extend_from_slice(format!("\r\n--{edge}--\r\n").as_bytes());
        let kind = format!("multipart/form-data; boundary={edge}");
        self.send("POST", "/list", &[("content-type", &kind)], body)
            .unwrap()
    }

    /// Sends a picture as the photos page's forms do.
    pub fn photograph(&self, path: &str, fields: &[(&str, &str)], picture: &[u8]) -> Answer {
        let edge = "----edge";
        let mut body = Vec::new();
        for (name, value) in fields {
            let part = format!(
                "--{edge}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n"
            );
            body.extend_from_slice(part.as_bytes());
        }
        let head = format!(
            "--{edge}\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"../../etc/passwd\"\r\n\
             Content-Type: image/jpeg\r\n\r\n"
        );
        body.extend_from_slice(head.as_bytes());
        body.extend_from_slice(picture);
        body.extend_from_slice(format!("\r\n--{edge}--\r\n").as_bytes());
        let kind = format!("multipart/form-data; boundary={edge}");
        self.send("POST", path, &[("content-type", &kind)], body)
            .unwrap()
    }

    pub fn send(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: Vec<u8>,
    ) -> Result<Answer, ureq::Error> {
        let uri = format!("{}{path}", self.address);
        let mut request = ureq::http::Request::builder().method(method).uri(uri);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        if let Some(cookie) = &self.cookie {
            request = request.header("cookie", cookie);
        }
        let mut answer = match method {
            "GET" | "HEAD" => self.agent.run(request.body(()).unwrap())?,
            _ => self.agent.run(request.body(body).unwrap())?,
        };
        Ok(Answer {
            status: answer.status().as_u16(),
            headers: answer.headers().clone(),
            body: answer.body_mut().read_to_vec()?,
        })
    }
}

impl Answer {
    pub fn text(&self) -> String {
        String::from_utf8(self.body.clone()).unwrap()
    }

    pub fn header(&self, name: &str) -> Option<&str> {
        self.headers.get(name).map(|value| value.to_str().unwrap())
    }
}

/// Fields as a browser sends a form: anything but letters and digits as %XX.
pub fn encoded(fields: &[(&str, &str)]) -> String {
    let pairs: Vec<String> = fields
        .iter()
        .map(|(k, v)| format!("{}={}", percent(k), percent(v)))
        .collect();
    pairs.join("&")
}

pub fn percent(text: &str) -> String {
    text.bytes()
        .map(|b| match b {
            b'0'..=b'9' | b'a'..=b'z' | b'A'..=b'Z' => char::from(b).to_string(),
            _ => format!("%{b:02X}"),
        })
        .collect()
}

/// An event id of our own, as forms carry them.
pub fn id(n: u64) -> String {
    format!("00000000-0000-7000-8000-{n:012x}")
}
