//! Who is answered, within which bounds, and how it ends.

use super::{open, usual};
use crate::wire::{Served, now};
use serde_json::json;
use std::{
    fs,
    io::{Read, Write},
    net::{TcpStream, UdpSocket},
    thread,
    time::Duration,
};

/// A request line and its headers.
fn asked(served: &Served, line: &str, headers: &[(&str, &str)], body: &str) -> u16 {
    let of =
        |text: &str| text.replace("PORT", &served.port.to_string()).replace("TOKEN", &served.token);
    let mut text = format!("{line} HTTP/1.1\r\n");
    for (name, value) in headers {
        text += &format!("{name}: {}\r\n", of(value));
    }
    text += &format!("content-length: {}\r\nconnection: close\r\n\r\n{body}", body.len());
    served.raw(text.as_bytes()).unwrap().status
}

const HOST: (&str, &str) = ("host", "127.0.0.1:PORT");
const JSON: (&str, &str) = ("content-type", "application/json");
const TOKEN: (&str, &str) = ("x-longodds-token", "TOKEN");

#[test]
fn only_our_own_page_is_answered() {
    let (_dir, served) = usual("only_our_own_page_is_answered");
    let call = |headers: &[(&str, &str)]| asked(&served, "POST /api/open", headers, "{}");
    assert_eq!(call(&[HOST, JSON, TOKEN]), 200);
    assert_eq!(call(&[("host", "localhost:PORT"), JSON, TOKEN]), 200);
    let origin = |origin| call(&[HOST, JSON, TOKEN, ("origin", origin)]);
    assert_eq!(origin("http://127.0.0.1:PORT"), 200);
    assert_eq!(origin("http://localhost:PORT"), 200);
    // Another name for this machine, another page, another port, a page without an origin.
    for host in ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost:PORT.evil.example", ""] {
        assert_eq!(call(&[("host", host), JSON, TOKEN]), 421, "{host}");
    }
    for other in [
        "http://evil.example",
        "https://127.0.0.1:PORT",
        "http://127.0.0.1:1",
        "http://127.0.0.1:PORT.evil.example",
        "null",
        "",
    ] {
        assert_eq!(origin(other), 403, "{other}");
    }
    let from = |site| call(&[HOST, JSON, TOKEN, ("sec-fetch-site", site)]);
    assert_eq!(from("same-origin"), 200);
    for site in ["cross-site", "same-site", "none", ""] {
        assert_eq!(from(site), 403, "{site}");
    }
    // The document itself may be opened by hand.
    let page = |headers: &[(&str, &str)]| asked(&served, "GET /", headers, "");
    assert_eq!(page(&[HOST, ("sec-fetch-site", "none")]), 200);
    assert_eq!(page(&[HOST, ("sec-fetch-site", "cross-site")]), 403);
    assert_eq!(page(&[("host", "evil.example")]), 421);
    // Two headers of a kind are nobody's.
    assert_eq!(call(&[HOST, ("host", "evil.example"), JSON, TOKEN]), 421);
}

#[test]
fn without_the_token_of_this_start_nothing_is_told() {
    let (dir, served) = usual("without_the_token_of_this_start_nothing_is_told");
    let paths = ["open", "edit", "file", "save", "page", "nothing"];
    let wrong = format!("{}0", &served.token[..31]);
    for token in ["", "00000000000000000000000000000000", &served.token[..31], &wrong] {
        if token == served.token {
            continue;
        }
        for path in paths {
            let line = format!("POST /api/{path}");
            let status = asked(&served, &line, &[HOST, JSON, ("x-longodds-token", token)], "{}");
            assert_eq!(status, 401, "{path}, {token}");
        }
    }
    assert_eq!(asked(&served, "POST /api/open", &[HOST, JSON], "{}"), 401);
    // Nor by its name in the address, as a cookie or in the document.
    let inside = format!("POST /api/open?token={}", served.token);
    assert_eq!(asked(&served, &inside, &[HOST, JSON], "{}"), 401);
    assert_eq!(asked(&served, "POST /api/open", &[HOST, JSON, ("cookie", "TOKEN")], "{}"), 401);
    let page =
        format!("GET / HTTP/1.1\r\nhost: 127.0.0.1:{}\r\nconnection: close\r\n\r\n", served.port);
    assert!(!served.raw(page.as_bytes()).unwrap().body.contains(&served.token));
    let other = Served::start(&mut dir.command(&["live", "claim.yaml"])).unwrap();
    assert!(served.token != other.token && served.token.len() == 32);
}

#[test]
fn nothing_is_written_but_by_a_post_of_json() {
    let (dir, served) = usual("nothing_is_written_but_by_a_post_of_json");
    let before = fs::read(dir.path("claim.yaml")).unwrap();
    let body = json!({ "digest": open(&served)["digest"], "sets": [["object.mass", "2 kg"]] });
    let body = body.to_string();
    for method in ["GET", "PUT", "DELETE", "PATCH", "OPTIONS", "HEAD"] {
        let status = asked(&served, &format!("{method} /api/save"), &[HOST, JSON, TOKEN], &body);
        assert_eq!(status, 405, "{method}");
    }
    for kind in ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data"] {
        let headers = [HOST, ("content-type", kind), TOKEN];
        assert_eq!(asked(&served, "POST /api/save", &headers, &body), 415, "{kind}");
    }
    assert_eq!(asked(&served, "POST /api/save", &[HOST, TOKEN], &body), 415);
    assert_eq!(asked(&served, "POST /", &[HOST, JSON, TOKEN], &body), 405);
    assert_eq!(fs::read(dir.path("claim.yaml")).unwrap(), before);
    // A page of another origin is told of no way in.
    let ask = format!(
        "OPTIONS /api/save HTTP/1.1\r\nhost: 127.0.0.1:{}\r\naccess-control-request-method: POST\r\n\
         connection: close\r\n\r\n",
        served.port
    );
    let reply = served.raw(ask.as_bytes()).unwrap();
    assert!(!reply.headers.iter().any(|(name, _)| name.starts_with("access-control")));
}

#[test]
fn every_answer_bears_its_headers() {
    let (_dir, served) = usual("every_answer_bears_its_headers");
    let get = |path: &str| {
        let host = format!("host: 127.0.0.1:{}", served.port);
        served.raw(format!("GET {path} HTTP/1.1\r\n{host}\r\nconnection: close\r\n\r\n").as_bytes())
    };
    let open = served.post("/api/open", &json!({}));
    let replies = [get("/"), get("/assets/main.js"), get("/none"), get("/api/open"), open];
    for (reply, status) in replies.into_iter().zip([200, 200, 404, 405, 200]) {
        let reply = reply.unwrap();
        assert_eq!(reply.status, status);
        for (name, value) in [
            ("cache-control", "no-store"),
            ("x-content-type-options", "nosniff"),
            ("referrer-policy", "no-referrer"),
            ("cross-origin-resource-policy", "same-origin"),
            ("cross-origin-opener-policy", "same-origin"),
        ] {
            assert_eq!(reply.header(name), Some(value));
        }
        let policy = reply.header("content-security-policy").unwrap();
        for part in [
            "default-src 'none'",
            "script-src 'self'",
            "frame-ancestors 'none'",
            "form-action 'none'",
            "base-uri 'none'",
            "require-trusted-types-for 'script'",
        ] {
            assert!(policy.contains(part), "{part}");
        }
        assert!(!policy.contains("unsafe-eval") && !policy.contains("http:"), "{policy}");
        assert!(!reply.headers.iter().any(|(name, _)| name == "set-cookie"));
    }
}

/// Nothing of the page comes from elsewhere, nor is a file named by it.
#[test]
fn the_page_is_whole_and_names_no_file() {
    let (_dir, served) = usual("the_page_is_whole_and_names_no_file");
    for path in
        ["/../claim.yaml", "/claim.yaml", "/assets/../claim.yaml", "/assets/..%2fclaim.yaml"]
    {
        assert_eq!(asked(&served, &format!("GET {path}"), &[HOST], ""), 404, "{path}");
    }
    let more = json!({ "digest": "", "sets": [], "file": "/etc/passwd" });
    assert_eq!(served.post("/api/save", &more).unwrap().status, 400);
    let page =
        format!("GET / HTTP/1.1\r\nhost: 127.0.0.1:{}\r\nconnection: close\r\n\r\n", served.port);
    let page = served.raw(page.as_bytes()).unwrap().body;
    assert!(!page.contains("http:") && !page.contains("https:") && !page.contains("//"), "{page}");
}

#[test]
fn it_listens_on_this_machine_alone() {
    let (_dir, served) = usual("it_listens_on_this_machine_alone");
    let outward = UdpSocket::bind("0.0.0.0:0").and_then(|socket| {
        // Nothing is sent: the system says by which address it would be.
        socket.connect("192.0.2.1:9")?;
        socket.local_addr()
    });
    let Ok(outward) = outward else { return };
    if outward.ip().is_loopback() {
        return;
    }
    assert!(TcpStream::connect((outward.ip(), served.port)).is_err(), "{outward}");
}

#[test]
fn what_is_too_long_is_refused() {
    let (_dir, served) = usual("what_is_too_long_is_refused");
    let long = "x".repeat(1 << 20);
    let body = json!({ "digest": long, "sets": [] }).to_string();
    let reply =
        served.raw(format!("{}{body}", served.head("/api/edit", body.len(), "")).as_bytes());
    // Refused before all of it is sent, or after.
    assert!(reply.is_err() || reply.unwrap().status == 413);
    let header = format!("x-long: {}\r\n", "x".repeat(200 * 1024));
    let reply = served.raw(format!("{}{{}}", served.head("/api/open", 2, &header)).as_bytes());
    assert!(reply.is_err() || reply.unwrap().status == 431);
    assert_eq!(served.post("/api/open", &json!({})).unwrap().status, 200);
}

/// Whoever begins requests and never ends them takes no more than the room there is, and
/// loses it after some seconds.
#[test]
fn half_a_request_is_not_held_for_long() {
    let (_dir, served) = usual("half_a_request_is_not_held_for_long");
    let mut halves: Vec<TcpStream> = (0..32).map(|_| served.socket().unwrap()).collect();
    for half in &mut halves {
        half.write_all(b"POST /api/open HTTP/1.1\r\nhost: 127").unwrap();
    }
    thread::sleep(Duration::from_millis(300));
    let begun = now();
    // No room: it waits, and is answered once the others are gone.
    assert_eq!(served.post("/api/open", &json!({})).unwrap().status, 200);
    let waited = begun.elapsed();
    assert!(waited > Duration::from_secs(3) && waited < Duration::from_secs(10), "{waited:?}");
    for half in &mut halves {
        half.set_read_timeout(Some(Duration::from_secs(5))).unwrap();
        let mut rest = Vec::new();
        let _closed = half.read_to_end(&mut rest);
        assert!(rest.is_empty() || rest.starts_with(b"HTTP/1.1 408"), "{rest:?}");
    }
}

#[test]
fn one_ctrl_c_ends_it_at_once() {
    let (_dir, mut served) = usual("one_ctrl_c_ends_it_at_once");
    let (status, took) = served.interrupt().unwrap();
    assert!(status == Some(0) && took < Duration::from_millis(500), "{status:?} {took:?}");
    // With an answer under way, too.
    let (_dir, mut served) = usual("one_ctrl_c_ends_it_at_once_under_way");
    let digest = open(&served)["digest"].clone();
    let mut socket = served.socket().unwrap();
    let body = json!({ "digest": digest, "sets": [["target.stands.at", "40 m"]] }).to_string();
    let head = served.head("/api/edit", body.len(), "");
    socket.write_all(format!("{head}{body}").as_bytes()).unwrap();
    let mut first = [0; 200];
    assert!(socket.read(&mut first).unwrap() > 0);
    let (status, took) = served.interrupt().unwrap();
    assert!(status == Some(0) && took < Duration::from_millis(1500), "{status:?} {took:?}");
}

#[test]
fn what_cannot_be_served_is_one_error() {
    let (dir, served) = usual("what_cannot_be_served_is_one_error");
    let port = served.port.to_string();
    let answer = dir.longodds(&["live", "claim.yaml", "--port", &port]);
    assert_eq!((answer.status, answer.out.as_str()), (3, ""));
    assert!(answer.err.contains(&format!("cannot listen on `127.0.0.1:{port}`")), "{}", answer.err);
    let answer = dir.longodds(&["live", "none.yaml"]);
    assert!(answer.status == 3 && answer.out.is_empty(), "{}", answer.err);
    let answer = dir.longodds(&["live", "-"]);
    assert!(answer.status == 2 && answer.out.is_empty(), "{}", answer.err);
}
