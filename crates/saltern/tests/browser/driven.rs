//! The program and a browser started for one test, and what a person does with them.

use std::io::{BufRead, BufReader, Read};
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use fantoccini::wd::PrintConfiguration;
use fantoccini::{Client, ClientBuilder, Locator};
use serde_json::{Map, Value, json};

/// Screens looked at: a phone, a tablet, a desk; width and height in pixels.
pub(crate) const SIZES: &[(&str, u32, u32)] = &[
    ("phone", 390, 844),
    ("tablet", 820, 1180),
    ("desk", 1280, 900),
];

/// A child that does not outlive the test.
pub(crate) struct Ended(pub(crate) Child);

impl Drop for Ended {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

pub(crate) struct Browser {
    pub(crate) client: Client,
    base: String,
    axe: String,
    _program: Option<Ended>,
    _driver: Ended,
    _profile: PathBuf,
}

impl Browser {
    /// The board on the demo, in a screen of this size.
    pub(crate) async fn open(width: u32, height: u32) -> Self {
        let (program, base) = program(&["--listen", "127.0.0.1:0"]);
        Self::at(base, Some(program), width, height).await
    }

    /// A screen of this size on a board that is started already.
    pub(crate) async fn at(base: String, program: Option<Ended>, width: u32, height: u32) -> Self {
        let port = free_port();
        let driver = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|e| panic!("chromedriver: {e}; ./test.sh installs it"));
        let driver = Ended(driver);
        let profile = std::env::temp_dir().join(format!("saltern-browser-{port}"));
        let mut capabilities = Map::new();
        capabilities.insert(
            "goog:chromeOptions".to_owned(),
            json!({
                "args": [
                    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                    "--force-prefers-reduced-motion", "--disable-background-networking", "--disable-component-update", "--disable-sync",
                    format!("--user-data-dir={}", profile.display()),
                    format!("--window-size={width},{height}"),
                ],
                "mobileEmulation": { "deviceMetrics": { "width": width, "height": height, "pixelRatio": 1, "touch": true } },
            }),
        );
        let mut builder = ClientBuilder::new(hyper_connector());
        builder.capabilities(capabilities);
        let address = format!("http://127.0.0.1:{port}");
        let mut tries = 0;
        let client = loop {
            match builder.connect(&address).await {
                Ok(client) => break client,
                Err(e) if tries > 50 => panic!("no browser: {e}"),
                Err(_) => {
                    tries += 1;
                    tokio::time::sleep(Duration::from_millis(200)).await;
                }
            }
        };
        let axe = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("../../target/browser/node_modules/axe-core/axe.min.js");
        let axe = std::fs::read_to_string(&axe)
            .unwrap_or_else(|e| panic!("{}: {e}; ./test.sh installs it", axe.display()));
        Self {
            client,
            base,
            axe,
            _program: program,
            _driver: driver,
            _profile: profile,
        }
    }

    pub(crate) async fn go(&self, page: &str) {
        self.client
            .goto(&format!("{}{page}", self.base))
            .await
            .unwrap();
    }

    /// Clicks what leads to another page, and waits until that page is there whole: a click comes back before it.
    pub(crate) async fn click(&self, what: Locator<'_>) {
        let element = self
            .client
            .wait()
            .for_element(what)
            .await
            .unwrap_or_else(|e| panic!("{what:?}: {e}"));
        self.client
            .execute("window.pageBefore = true", Vec::new())
            .await
            .unwrap();
        element.click().await.unwrap();
        let arrived =
            "return window.pageBefore === undefined && document.readyState === 'complete'";
        for _ in 0..200 {
            // In between two pages there is none to ask.
            if let Ok(Value::Bool(true)) = self.client.execute(arrived, Vec::new()).await {
                return;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        panic!("{what:?} led nowhere in 10 s");
    }

    pub(crate) async fn fill(&self, css: &str, text: &str) {
        let field = self.client.find(Locator::Css(css)).await.unwrap();
        field.clear().await.unwrap();
        field.send_keys(text).await.unwrap();
    }

    pub(crate) async fn text(&self, what: Locator<'_>) -> String {
        self.client
            .wait()
            .for_element(what)
            .await
            .unwrap_or_else(|e| panic!("{what:?}: {e}"))
            .text()
            .await
            .unwrap()
    }

    pub(crate) async fn number(&self, script: &str) -> f64 {
        self.client
            .execute(script, Vec::new())
            .await
            .unwrap()
            .as_f64()
            .unwrap()
    }

    /// What axe-core finds against WCAG 2.2 A and AA, a line each.
    pub(crate) async fn axe(&self) -> Vec<String> {
        self.client.execute(&self.axe, Vec::new()).await.unwrap();
        let found = self
            .client
            .execute_async(
                "const done = arguments[arguments.length - 1];
                 axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
                   .then(r => done(r.violations.map(v => v.id + ': ' + v.help + ' at ' + v.nodes.slice(0, 3).map(n => n.html).join(' | '))));",
                Vec::new(),
            )
            .await
            .unwrap();
        let Value::Array(list) = found else {
            panic!("axe-core gave {found}");
        };
        list.iter()
            .map(|v| v.as_str().unwrap().to_owned())
            .collect()
    }

    /// The page as it is printed.
    pub(crate) async fn printed(&self) -> Vec<u8> {
        self.client
            .print(PrintConfiguration::default())
            .await
            .unwrap()
    }

    pub(crate) async fn close(self) {
        let profile = self._profile.clone();
        self.client.clone().close().await.unwrap();
        drop(self);
        let _ = std::fs::remove_dir_all(profile);
    }
}

fn hyper_connector() -> hyper_util::client::legacy::connect::HttpConnector {
    hyper_util::client::legacy::connect::HttpConnector::new()
}

/// The board with these arguments, and its address as it said it.
pub(crate) fn program(arguments: &[&str]) -> (Ended, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .arg("serve")
        .args(arguments)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut out = BufReader::new(child.stdout.take().unwrap());
    let mut line = String::new();
    out.read_line(&mut line).unwrap();
    let base = line
        .split_whitespace()
        .find(|w| w.starts_with("http://"))
        .unwrap_or_else(|| panic!("no address in {line:?}"))
        .to_owned();
    // The rest of what it says is of no interest, but the pipe stays open.
    std::thread::spawn(move || {
        let mut rest = Vec::new();
        let _ = out.read_to_end(&mut rest);
    });
    (Ended(child), base)
}

pub(crate) fn free_port() -> u16 {
    TcpListener::bind("127.0.0.1:0")
        .unwrap()
        .local_addr()
        .unwrap()
        .port()
}
