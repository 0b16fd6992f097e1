//! The program as it is started, and a wire to it: bytes out, bytes back, no library in between.

#![allow(dead_code, reason = "each test binary uses its own part")]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::time::Duration;

pub(crate) const PASSPHRASE: &str = "five char in the brine";

pub(crate) fn saltern() -> Command {
    Command::new(env!("CARGO_BIN_EXE_saltern"))
}

/// Runs to the end with a text on its input.
pub(crate) fn run(args: &[&str], input: &str) -> Output {
    let mut child = saltern()
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // One that refuses at once does not read.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap()
}

/// Exit code, and everything said: answer and error.
pub(crate) fn told(args: &[&str], input: &str) -> (i32, String) {
    let out = run(args, input);
    let text = [out.stdout, out.stderr].concat();
    (out.status.code().unwrap(), String::from_utf8(text).unwrap())
}

/// An instructor with a passphrase in a new record.
pub(crate) fn with_maren(db: &Path) {
    let db = db.to_str().unwrap();
    let args = ["people", "passphrase", "--db", db, "--name", "Maren"];
    let (code, text) = told(&args, &format!("{PASSPHRASE}\n"));
    assert_eq!(code, 0, "{text}");
}

/// The board while it serves; it does not outlive the test.
pub(crate) struct Serving {
    child: Child,
    /// Address and port.
    pub(crate) at: String,
}

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Serving {
    pub(crate) fn start(args: &[&str]) -> Self {
        let mut child = saltern()
            .arg("serve")
            .args(args)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let mut line = String::new();
        out.read_line(&mut line).unwrap();
        let at = line
            .split_whitespace()
            .find_map(|w| w.strip_prefix("http://"))
            .map(|w| w.trim_end_matches(','))
            .unwrap_or_else(|| panic!("no address in {line:?}"))
            .to_owned();
        std::thread::spawn(move || {
            let _ = out.read_to_end(&mut Vec::new());
        });
        Self { child, at }
    }

    pub(crate) fn port(&self) -> &str {
        self.at.rsplit_once(':').unwrap().1
    }

    /// The most memory it ever held, KiB.
    pub(crate) fn most_memory_kib(&self) -> u64 {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.id())).unwrap();
        let line = status.lines().find(|l| l.starts_with("VmHWM")).unwrap();
        line.split_whitespace().nth(1).unwrap().parse().unwrap()
    }

    /// A wire to it.
    pub(crate) fn wire(&self) -> TcpStream {
        let to = format!("127.0.0.1:{}", self.port());
        let wire = TcpStream::connect(to).unwrap();
        wire.set_read_timeout(Some(Duration::from_secs(60)))
            .unwrap();
        wire.set_write_timeout(Some(Duration::from_secs(60)))
            .unwrap();
        wire
    }

    /// Sends these bytes and reads what comes until it ends.
    pub(crate) fn raw(&self, bytes: &[u8]) -> String {
        let mut wire = self.wire();
        let _ = wire.write_all(bytes);
        read_all(&mut wire)
    }

    pub(crate) fn get(&self, page: &str, cookie: &str) -> String {
        self.raw(
            format!(
                "GET {page} HTTP/1.1\r\nHost: localhost:{}\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n",
                self.port()
            )
            .as_bytes(),
        )
    }

    pub(crate) fn post(&self, page: &str, cookie: &str, form: &[(&str, &str)]) -> String {
        let body = written(form);
        self.raw(
            format!(
                "POST {page} HTTP/1.1\r\nHost: localhost:{}\r\nCookie: {cookie}\r\nSec-Fetch-Site: same-origin\r\n\
                 Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
                self.port(),
                body.len()
            )
            .as_bytes(),
        )
    }

    /// The cookie of the instructor, signed in.
    pub(crate) fn maren(&self) -> String {
        let form = [("name", "Maren"), ("passphrase", PASSPHRASE)];
        let answer = self.post("/sign-in", "", &form);
        assert_eq!(status(&answer), 303, "{answer}");
        let rest = answer.to_lowercase();
        let at = rest.find("set-cookie: ").unwrap() + "set-cookie: ".len();
        rest[at..].split(';').next().unwrap().to_owned()
    }

    /// The token the forms of a page carry.
    pub(crate) fn token(&self, page: &str, cookie: &str) -> String {
        let text = self.get(page, cookie);
        let rest = text.split("name=\"form-token\" value=\"").nth(1);
        let rest = rest.unwrap_or_else(|| panic!("no token in {text}"));
        rest.split('"').next().unwrap().to_owned()
    }
}

/// Everything that comes, also when the other end goes away in the middle.
pub(crate) fn read_all(wire: &mut TcpStream) -> String {
    let mut all = Vec::new();
    let mut piece = [0; 16 * 1024];
    while let Ok(n) = wire.read(&mut piece) {
        if n == 0 {
            break;
        }
        all.extend_from_slice(&piece[..n]);
    }
    String::from_utf8_lossy(&all).into_owned()
}

pub(crate) fn status(answer: &str) -> u16 {
    answer
        .split_whitespace()
        .nth(1)
        .and_then(|s| s.parse().ok())
        .unwrap_or_else(|| panic!("no status in {answer:?}"))
}

pub(crate) fn written(form: &[(&str, &str)]) -> String {
    form.iter()
        .map(|(n, v)| {
            let v: String = v.bytes().map(|b| format!("%{b:02X}")).collect();
            format!("{n}={v}")
        })
        .collect::<Vec<_>>()
        .join("&")
}
