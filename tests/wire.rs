//! HTTP by hand over a socket, to a page that is served: as strict or as rude as a
//! test wants to be. `bench/live` speaks it too.

use serde_json::Value;
use std::{
    io::{self, BufRead, BufReader, Write},
    net::{Ipv4Addr, TcpStream},
    ops::ControlFlow,
    process::{Child, ChildStdout, Command, Stdio},
    time::{Duration, Instant},
};

/// How long a socket may be silent.
const SILENCE: Duration = Duration::from_secs(120);

/// A page that is served by a program of ours; ended when dropped.
#[derive(Debug)]
pub(crate) struct Served {
    child: Child,
    /// Held open: it has more to say.
    _out: BufReader<ChildStdout>,
    /// Its port on 127.0.0.1.
    pub(crate) port: u16,
    /// Its token.
    pub(crate) token: String,
}

/// What came back.
#[derive(Debug)]
pub(crate) struct Reply {
    /// The status.
    pub(crate) status: u16,
    /// The headers, as they came, names in small letters.
    pub(crate) headers: Vec<(String, String)>,
    /// The body, whole.
    pub(crate) body: String,
}

fn odd(what: &str) -> io::Error {
    io::Error::other(what.to_owned())
}

impl Reply {
    /// The body as JSON.
    pub(crate) fn json(&self) -> io::Result<Value> {
        serde_json::from_str(&self.body).map_err(io::Error::other)
    }

    /// A header.
    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|(of, _)| of == name).map(|(_, value)| value.as_str())
    }
}

impl Served {
    /// Starts the program and waits for its address.
    pub(crate) fn start(command: &mut Command) -> io::Result<Self> {
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn()?;
        let out = child.stdout.take().ok_or_else(|| odd("no output"))?;
        let (mut line, mut out) = (String::new(), BufReader::new(out));
        out.read_line(&mut line)?;
        let address = line.trim().strip_prefix("Page: http://127.0.0.1:");
        let parts = address.and_then(|address| address.split_once("/#"));
        let (port, token) = parts.ok_or_else(|| odd(&format!("no address in `{line}`")))?;
        let port = port.parse().map_err(io::Error::other)?;
        Ok(Self { child, _out: out, port, token: token.to_owned() })
    }

    /// The program's number.
    pub(crate) fn pid(&self) -> u32 {
        self.child.id()
    }

    /// A socket to it.
    pub(crate) fn socket(&self) -> io::Result<TcpStream> {
        let socket = TcpStream::connect((Ipv4Addr::LOCALHOST, self.port))?;
        socket.set_read_timeout(Some(SILENCE))?;
        socket.set_nodelay(true)?;
        Ok(socket)
    }

    /// Sends these bytes, and reads what comes back until it is closed.
    pub(crate) fn raw(&self, bytes: &[u8]) -> io::Result<Reply> {
        let mut socket = self.socket()?;
        socket.write_all(bytes)?;
        reply(&mut BufReader::new(socket))
    }

    /// The head of a request as the page sends it, with other headers behind its own.
    pub(crate) fn head(&self, path: &str, length: usize, more: &str) -> String {
        let Self { port, token, .. } = self;
        format!(
            "POST {path} HTTP/1.1\r\nhost: 127.0.0.1:{port}\r\norigin: http://127.0.0.1:{port}\r\n\
             sec-fetch-site: same-origin\r\ncontent-type: application/json\r\n\
             x-longodds-token: {token}\r\ncontent-length: {length}\r\nconnection: close\r\n{more}\r\n"
        )
    }

    /// Asks as the page does.
    pub(crate) fn post(&self, path: &str, body: &Value) -> io::Result<Reply> {
        let body = body.to_string();
        self.raw(format!("{}{body}", self.head(path, body.len(), "")).as_bytes())
    }

    /// Asks as the page does, and hands on each line with the time since the request was
    /// sent, until it has had enough.
    pub(crate) fn lines(
        &self,
        path: &str,
        body: &Value,
        mut each: impl FnMut(&Value, Duration) -> ControlFlow<()>,
    ) -> io::Result<()> {
        let body = body.to_string();
        let mut socket = self.socket()?;
        let sent = now();
        socket.write_all(format!("{}{body}", self.head(path, body.len(), "")).as_bytes())?;
        let mut reader = BufReader::new(socket);
        let (status, _) = head(&mut reader)?;
        if status != 200 {
            return Err(odd(&format!("status {status}")));
        }
        let mut waiting = Vec::new();
        while let Some(chunk) = chunk(&mut reader)? {
            waiting.extend(chunk);
            while let Some(end) = waiting.iter().position(|byte| *byte == b'\n') {
                let line: Vec<u8> = waiting.drain(..=end).collect();
                let line = serde_json::from_slice(&line).map_err(io::Error::other)?;
                if each(&line, sent.elapsed()).is_break() {
                    return Ok(());
                }
            }
        }
        Ok(())
    }

    /// One Ctrl-C; hands back the status and how long it took to end.
    pub(crate) fn interrupt(&mut self) -> io::Result<(Option<i32>, Duration)> {
        let begun = now();
        Command::new("kill").args(["-INT", &self.pid().to_string()]).status()?;
        let status = self.child.wait()?;
        Ok((status.code(), begun.elapsed()))
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ended = self.child.kill();
        let _reaped = self.child.wait();
    }
}

#[expect(clippy::disallowed_methods, reason = "waiting is what is measured here")]
pub(crate) fn now() -> Instant {
    Instant::now()
}

fn head(reader: &mut impl BufRead) -> io::Result<(u16, Vec<(String, String)>)> {
    let mut lines = Vec::new();
    loop {
        let mut line = String::new();
        if reader.read_line(&mut line)? == 0 {
            return Err(odd("closed before an answer"));
        }
        let line = line.trim_end().to_owned();
        if line.is_empty() {
            break;
        }
        lines.push(line);
    }
    let status = lines.first().and_then(|line| line.split(' ').nth(1)?.parse().ok());
    let split = |line: &String| {
        let (name, value) = line.split_once(':')?;
        Some((name.to_ascii_lowercase(), value.trim().to_owned()))
    };
    let headers = lines.iter().skip(1).filter_map(split).collect();
    Ok((status.ok_or_else(|| odd("no status"))?, headers))
}

/// The next part of a body that comes in parts; `None` at its end.
fn chunk(reader: &mut impl BufRead) -> io::Result<Option<Vec<u8>>> {
    let mut line = String::new();
    if reader.read_line(&mut line)? == 0 {
        return Ok(None);
    }
    let length = usize::from_str_radix(line.trim(), 16).map_err(io::Error::other)?;
    let mut bytes = vec![0; length + 2];
    reader.read_exact(&mut bytes)?;
    bytes.truncate(length);
    Ok((length > 0).then_some(bytes))
}

fn reply(reader: &mut impl BufRead) -> io::Result<Reply> {
    let (status, headers) = head(reader)?;
    let chunked = headers.iter().any(|(name, _)| name == "transfer-encoding");
    let mut body = Vec::new();
    if chunked {
        while let Some(bytes) = chunk(reader)? {
            body.extend(bytes);
        }
    } else {
        // A socket that was reset has said all the same what it said.
        let _read = reader.read_to_end(&mut body);
    }
    let body = String::from_utf8_lossy(&body).into_owned();
    Ok(Reply { status, headers, body })
}
