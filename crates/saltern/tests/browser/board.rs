//! A board whose network can be lost: it is stopped, and started again at the same address on the same record.

use std::path::PathBuf;

use crate::driven::{Browser, Ended, free_port, program};

pub(crate) struct Board {
    running: Option<Ended>,
    base: String,
    listen: String,
    record: PathBuf,
}

impl Board {
    /// On the demo, with a record of its own that outlives it.
    pub(crate) fn start() -> Self {
        let port = free_port();
        let record = std::env::temp_dir().join(format!("saltern-live-{port}.db"));
        let _ = std::fs::remove_file(&record);
        let mut board = Self {
            running: None,
            base: String::new(),
            listen: format!("127.0.0.1:{port}"),
            record,
        };
        board.start_again();
        board
    }

    /// Gone at once, with every connection it had.
    pub(crate) fn stop(&mut self) {
        self.running = None;
    }

    pub(crate) fn start_again(&mut self) {
        let record = self.record.to_string_lossy().into_owned();
        let (running, base) = program(&["--listen", &self.listen, "--db", &record]);
        self.running = Some(running);
        self.base = base;
    }

    /// A screen of its own on this board.
    pub(crate) async fn screen(&self, width: u32, height: u32) -> Browser {
        Browser::at(self.base.clone(), None, width, height).await
    }
}

impl Drop for Board {
    fn drop(&mut self) {
        self.running = None;
        for end in ["", "-wal", "-shm"] {
            let mut file = self.record.clone().into_os_string();
            file.push(end);
            let _ = std::fs::remove_file(file);
        }
    }
}
