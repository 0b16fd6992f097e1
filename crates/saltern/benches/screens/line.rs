//! As much of HTTP as a bench needs: one connection that stays open, whole answers, and a stream of events.

use tokio::io::{AsyncBufReadExt, AsyncReadExt, AsyncWriteExt, BufReader};
use tokio::net::TcpStream;

pub(crate) struct Line {
    stream: BufReader<TcpStream>,
    host: String,
}

impl Line {
    pub(crate) async fn open(host: &str) -> Self {
        let stream = TcpStream::connect(host).await.expect("the board listens");
        stream.set_nodelay(true).expect("a plain socket");
        Self {
            stream: BufReader::new(stream),
            host: host.to_owned(),
        }
    }

    async fn ask(&mut self, request: &str) -> (u16, usize) {
        self.stream
            .get_mut()
            .write_all(request.as_bytes())
            .await
            .expect("the board takes it");
        let (mut status, mut length) = (0, 0);
        let mut line = String::new();
        loop {
            line.clear();
            self.stream
                .read_line(&mut line)
                .await
                .expect("the board answers");
            let told = line.trim_end().to_ascii_lowercase();
            if told.is_empty() {
                return (status, length);
            }
            if let Some(rest) = told.strip_prefix("http/1.1 ") {
                status = rest[..3].parse().expect("a status");
            } else if let Some(rest) = told.strip_prefix("content-length: ") {
                length = rest.parse().expect("a length");
            }
        }
    }

    async fn body(&mut self, length: usize) -> Vec<u8> {
        let mut body = vec![0; length];
        self.stream
            .read_exact(&mut body)
            .await
            .expect("the whole answer");
        body
    }

    /// A page; its length in bytes.
    pub(crate) async fn get(&mut self, page: &str) -> u64 {
        let request = format!("GET {page} HTTP/1.1\r\nHost: {}\r\n\r\n", self.host);
        let (status, length) = self.ask(&request).await;
        let body = self.body(length).await;
        assert_eq!(status, 200, "{page}: {}", String::from_utf8_lossy(&body));
        length as u64
    }

    /// An entry; its number in the log.
    pub(crate) async fn post(&mut self, page: &str, form: &str) -> i64 {
        let request = format!(
            "POST {page} HTTP/1.1\r\nHost: {}\r\nAccept: text/plain\r\nContent-Type: application/x-www-form-urlencoded\r\n\
             Content-Length: {}\r\n\r\n{form}",
            self.host,
            form.len()
        );
        let (status, length) = self.ask(&request).await;
        let said = String::from_utf8(self.body(length).await).expect("text");
        assert_eq!(status, 201, "{said}");
        said.parse().expect("the number of the entry")
    }

    /// A stream of events, once it said hello.
    pub(crate) async fn listen(mut self, page: &str) -> Heard {
        let request = format!("GET {page} HTTP/1.1\r\nHost: {}\r\n\r\n", self.host);
        let (status, _) = self.ask(&request).await;
        assert_eq!(status, 200, "{page}");
        let mut heard = Heard {
            stream: self.stream,
            begun: Vec::new(),
            is_entry: false,
        };
        let mut line = String::new();
        while line != "event: hello" {
            line = heard.line().await.expect("hello");
        }
        heard
    }
}

/// What a screen hears.
pub(crate) struct Heard {
    stream: BufReader<TcpStream>,
    /// The line that is on its way.
    begun: Vec<u8>,
    is_entry: bool,
}

impl Heard {
    /// The number of the next entry; `None` where the board is gone. May be dropped and asked again.
    pub(crate) async fn next(&mut self) -> Option<i64> {
        loop {
            let line = self.line().await?;
            if let Some(event) = line.strip_prefix("event: ") {
                self.is_entry = event == "entry";
            } else if let Some(id) = line.strip_prefix("id: ").filter(|_| self.is_entry) {
                return id.parse().ok();
            }
        }
    }

    async fn line(&mut self) -> Option<String> {
        // What was read of a line when this was dropped stays in `begun`.
        if self.stream.read_until(b'\n', &mut self.begun).await.ok()? == 0 {
            return None;
        }
        let line = std::mem::take(&mut self.begun);
        Some(String::from_utf8_lossy(&line).trim_end().to_owned())
    }
}
