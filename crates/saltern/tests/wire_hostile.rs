//! The program on a wire, as a stranger on the network speaks to it: loads, half requests, forged cookies, odd paths.

#![allow(clippy::unwrap_used, clippy::panic)]

mod wire;

use std::io::Write;
use std::net::TcpStream;
use std::thread;

use wire::{Serving, read_all, status, told, with_maren};

const RECORD: &str = "/event/harvest-supper/record";
const MEBI: usize = 1 << 20;

/// Sends a head and then as much as the other end takes; answers what came back and the bytes that went out.
fn poured(board: &Serving, head: &str, piece: &[u8], times: usize) -> (String, usize) {
    let mut wire = board.wire();
    let mut back: TcpStream = wire.try_clone().unwrap();
    let reader = thread::spawn(move || read_all(&mut back));
    let mut out = 0;
    wire.write_all(head.as_bytes()).unwrap();
    for _ in 0..times {
        if wire.write_all(piece).is_err() {
            break;
        }
        out += piece.len();
    }
    let _ = wire.shutdown(std::net::Shutdown::Write);
    (reader.join().unwrap(), out)
}

fn head(board: &Serving, cookie: &str, how: &str) -> String {
    format!(
        "POST {RECORD} HTTP/1.1\r\nHost: localhost:{}\r\nCookie: {cookie}\r\nSec-Fetch-Site: same-origin\r\n\
         Content-Type: application/x-www-form-urlencoded\r\n{how}\r\n\r\n",
        board.port()
    )
}

#[test]
fn loads_forgeries_and_halves_get_an_answer_and_leave_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let db = folder.path().join("kitchen.db");
    with_maren(&db);
    let path = db.to_str().unwrap();
    let board = Serving::start(&["--db", path, "--listen", "127.0.0.1:0", "--sign-in"]);
    let maren = board.maren();
    assert_eq!(status(&board.get(RECORD, &maren)), 200);
    let before = board.most_memory_kib();

    // 100 MB with its length said, and 100 MB in pieces without; signed in and not.
    let said = format!("Content-Length: {}", 100 * MEBI);
    let piece = vec![b'x'; MEBI];
    let chunk = [format!("{MEBI:x}\r\n").as_bytes(), &piece, b"\r\n"].concat();
    for cookie in [maren.as_str(), "", "saltern-session=forged"] {
        let want = if cookie == maren { 413 } else { 403 };
        let (answer, out) = poured(&board, &head(&board, cookie, &said), &piece, 100);
        assert_eq!(status(&answer), want, "{out} bytes out: {answer}");
        assert!(out < 100 * MEBI, "all of it was taken in");
        let (answer, out) = poured(
            &board,
            &head(&board, cookie, "Transfer-Encoding: chunked"),
            &chunk,
            100,
        );
        assert_eq!(status(&answer), want, "{out} bytes out: {answer}");
        assert!(answer.contains("do now"), "{answer}");
    }
    let grown = board.most_memory_kib() - before;
    assert!(
        grown < 20 * 1024,
        "{grown} KiB more held for what was thrown away"
    );

    // What no browser sends.
    let host = format!("Host: localhost:{}", board.port());
    for request in [
        format!("GET /\0people HTTP/1.1\r\n{host}\r\n\r\n"),
        format!("GET / HTTP/1.1\r\n{host}\r\nX: a\0b\r\n\r\n"),
        format!("GET / HTTP/1.1\r\n{host}\r\nCookie: \u{1}\u{2}\r\n\r\n"),
        "GET / HTTP/9.9\r\n\r\n".to_owned(),
        "\r\n\r\n\r\n".to_owned(),
        "\u{16}\u{3}\u{1}\u{2}\u{0}\u{1}\u{0}\u{1}\u{fc}\u{3}\u{3}".to_owned(),
        format!("GET /{} HTTP/1.1\r\n{host}\r\n\r\n", "a".repeat(MEBI)),
        format!(
            "GET / HTTP/1.1\r\n{host}\r\n{}\r\n",
            "X-Y: z\r\n".repeat(5000)
        ),
        format!("POST {RECORD} HTTP/1.1\r\n{host}\r\nContent-Length: -5\r\n\r\n"),
        format!(
            "POST {RECORD} HTTP/1.1\r\n{host}\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n"
        ),
        format!("POST {RECORD} HTTP/1.1\r\n{host}\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n"),
        format!("GET http://rebound.example/ HTTP/1.1\r\n{host}\r\nConnection: close\r\n\r\n"),
        format!(
            "GET //rebound.example/%2e%2e/people HTTP/1.1\r\n{host}\r\nConnection: close\r\n\r\n"
        ),
    ] {
        let mut wire = board.wire();
        let _ = wire.write_all(request.as_bytes());
        let _ = wire.shutdown(std::net::Shutdown::Write);
        let answer = read_all(&mut wire);
        let shown: String = request.chars().take(60).collect();
        // Dropped without a word, or refused, or sent to the sign-in; nothing told.
        if !answer.is_empty() {
            let code = status(&answer);
            assert!((300..500).contains(&code), "{shown:?}: {answer}");
        }
        for leak in ["panicked", "src/", path, "kitchen.db", "sqlite"] {
            assert!(!answer.contains(leak), "{shown:?} tells {leak}");
        }
    }

    // A name that another site points at this machine, whatever the cookie.
    let rebound = format!(
        "GET /people HTTP/1.1\r\nHost: rebound.example\r\nCookie: {maren}\r\nConnection: close\r\n\r\n"
    );
    assert_eq!(status(&board.raw(rebound.as_bytes())), 403);

    // It serves on, and nothing of all that is in the record.
    let page = board.get(RECORD, &maren);
    assert!(page.contains("0 entries in all"), "{page}");
    drop(board);
    let (code, text) = told(&["verify", "--db", path], "");
    assert_eq!(code, 0);
    assert!(text.contains("holds: 0 entries"), "{text}");
}

#[test]
fn sessions_outlive_the_program_and_a_new_passphrase_ends_them() {
    let folder = tempfile::tempdir().unwrap();
    let db = folder.path().join("kitchen.db");
    with_maren(&db);
    let path = db.to_str().unwrap();
    let serve = ["--db", path, "--listen", "127.0.0.1:0", "--sign-in"];
    let board = Serving::start(&serve);
    let maren = board.maren();
    let token = board.token(RECORD, &maren);
    drop(board);
    let board = Serving::start(&serve);
    // The form that was open meanwhile is still good.
    let form = [
        ("id", "t:1"),
        ("kind", "note"),
        ("words", "over the start"),
        ("form-token", &token),
    ];
    assert_eq!(status(&board.post(RECORD, &maren, &form)), 303);
    let args = ["people", "passphrase", "--db", path, "--name", "Maren"];
    let (code, text) = told(&args, "six char in the smoke\n");
    assert_eq!(code, 0, "{text}");
    assert!(text.contains("sessions ended: 1"), "{text}");
    assert_eq!(status(&board.get("/", &maren)), 303);
    let old = [("name", "Maren"), ("passphrase", wire::PASSPHRASE)];
    assert_eq!(status(&board.post("/sign-in", "", &old)), 403);
}
