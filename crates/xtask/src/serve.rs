//! A small file server for one folder, for this computer only.

use std::fs::File;
use std::io::{self, ErrorKind, Read, Write};
use std::net::{Ipv4Addr, TcpListener};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;
use std::thread;

use anyhow::{Context, Result, anyhow};
use tiny_http::{HTTPVersion, Header, Method, Request, Response, StatusCode};

use crate::url_prefix::UrlPrefix;

/// How many ports are tried after the one asked for.
const MORE_PORTS: u16 = 50;

/// A browser opens up to six connections at once; fewer threads than that would make one wait.
const THREADS: usize = 6;

/// A server that is running.
pub struct Server {
    url: String,
    threads: Vec<thread::JoinHandle<()>>,
}

impl Server {
    /// Serves the folder at the prefix, on the port or on the first free one after it. Port 0 takes any
    /// free port.
    ///
    /// # Errors
    /// When no port could be opened.
    pub fn start(folder: &Path, port: u16, prefix: &UrlPrefix) -> Result<Self> {
        let listener = listen(port)?;
        let address = listener.local_addr()?;
        let server = tiny_http::Server::from_listener(listener, None)
            .map_err(|error| anyhow!("could not serve at {address}: {error}"))?;
        let server = Arc::new(server);
        let threads = (0..THREADS)
            .map(|_| {
                let server = Arc::clone(&server);
                let folder = folder.to_owned();
                let prefix = prefix.clone();
                thread::spawn(move || {
                    while let Ok(request) = server.recv() {
                        answer(request, &folder, &prefix);
                    }
                })
            })
            .collect();
        Ok(Self {
            url: format!("http://{address}{}", prefix.as_str()),
            threads,
        })
    }

    /// Address of the page.
    pub fn url(&self) -> &str {
        &self.url
    }

    /// Serves until the program is stopped.
    ///
    /// # Errors
    /// When a thread of the server broke down.
    pub fn wait(self) -> Result<()> {
        for thread in self.threads {
            thread
                .join()
                .map_err(|_| anyhow!("a thread of the server broke down"))?;
        }
        Ok(())
    }
}

fn listen(port: u16) -> Result<TcpListener> {
    let last = if port == 0 {
        0
    } else {
        port.saturating_add(MORE_PORTS)
    };
    for candidate in port..=last {
        match TcpListener::bind((Ipv4Addr::LOCALHOST, candidate)) {
            Ok(listener) => return Ok(listener),
            Err(error) if error.kind() == ErrorKind::AddrInUse && candidate < last => {
                println!("Port {candidate} is taken; trying {}.", candidate + 1);
            }
            Err(error) => {
                return Err(error).with_context(|| format!("could not open port {candidate}"));
            }
        }
    }
    Err(anyhow!("no free port from {port} to {last}"))
}

/// What a request gets.
#[derive(Debug, PartialEq, Eq)]
enum Answer {
    File(PathBuf),
    /// The browser asked for the folder without its last slash; relative addresses need it.
    MovedTo(String),
    NotFound,
    NotAllowed,
}

fn answer(request: Request, folder: &Path, prefix: &UrlPrefix) {
    let answer = choose(request.method(), request.url(), folder, prefix);
    // An error here means that the browser has gone away, which it may.
    let text = |text: &str, status: u16| Response::from_string(text).with_status_code(status);
    let _ = match answer {
        Answer::File(path) => match File::open(&path) {
            Ok(file) => reply(
                request,
                Response::from_file(file)
                    .with_header(header("Content-Type", media_type(&path)))
                    .with_header(header("X-Content-Type-Options", "nosniff"))
                    .with_header(header("Cache-Control", "no-cache")),
            ),
            Err(error) => reply(request, text(&error.to_string(), 500)),
        },
        Answer::MovedTo(url) => reply(
            request,
            Response::empty(StatusCode(308)).with_header(header("Location", &url)),
        ),
        Answer::NotFound => reply(request, text("Not found", 404)),
        Answer::NotAllowed => reply(request, text("Only reading", 405)),
    };
}

/// Answers, and has the browser close the connection, as HTTP 1.0 does. The library underneath may leave a connection
/// waiting until another one closes, when several are opened at once, and browsers keep theirs open for minutes.
fn reply<R: Read>(request: Request, response: Response<R>) -> io::Result<()> {
    let head = *request.method() == Method::Head;
    let mut writer = request.into_writer();
    response.raw_print(&mut writer, HTTPVersion(1, 0), &[], head, None)?;
    writer.flush()
}

fn choose(method: &Method, url: &str, folder: &Path, prefix: &UrlPrefix) -> Answer {
    if !matches!(method, Method::Get | Method::Head) {
        return Answer::NotAllowed;
    }
    let path = url.split(['?', '#']).next().unwrap_or_default();
    let Some(inside) = path.strip_prefix(prefix.as_str()) else {
        return if format!("{path}/") == prefix.as_str() {
            Answer::MovedTo(prefix.as_str().to_owned())
        } else {
            Answer::NotFound
        };
    };
    let inside = Path::new(inside);
    // Only plain names: nothing that climbs out of the folder or starts anew.
    if !inside
        .components()
        .all(|part| matches!(part, Component::Normal(_)))
    {
        return Answer::NotFound;
    }
    let file = folder.join(inside);
    if file.is_file() {
        Answer::File(file)
    } else if file.join("index.html").is_file() {
        if path.ends_with('/') {
            Answer::File(file.join("index.html"))
        } else {
            Answer::MovedTo(format!("{path}/"))
        }
    } else {
        Answer::NotFound
    }
}

/// The header, from texts that this file knows to be sound.
fn header(name: &str, value: &str) -> Header {
    Header::from_bytes(name, value).expect("names and values of headers here are plain ASCII")
}

/// Browsers refuse modules, and stream WebAssembly, only by the right type.
fn media_type(path: &Path) -> &'static str {
    match path.extension().and_then(|ending| ending.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("json") => "application/json",
        Some("csv") => "text/csv; charset=utf-8",
        Some("txt" | "md") => "text/plain; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("webmanifest") => "application/manifest+json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("ico") => "image/x-icon",
        Some("woff2") => "font/woff2",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::net::TcpStream;
    use std::time::Duration;

    /// Asks for an address in this crate's own folder, served at `/sub/`.
    fn ask(method: Method, url: &str) -> Answer {
        let prefix = "sub".parse().expect("a sound prefix");
        choose(&method, url, Path::new(env!("CARGO_MANIFEST_DIR")), &prefix)
    }

    #[test]
    fn files_are_found_under_the_prefix_only() {
        let manifest = Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml");
        assert_eq!(
            ask(Method::Get, "/sub/Cargo.toml?x=1"),
            Answer::File(manifest)
        );
        assert_eq!(ask(Method::Get, "/Cargo.toml"), Answer::NotFound);
        assert_eq!(
            ask(Method::Get, "/sub"),
            Answer::MovedTo("/sub/".to_owned())
        );
    }

    #[test]
    fn nothing_outside_of_the_folder_is_served() {
        for url in [
            "/sub/../page/Cargo.toml",
            "/sub//etc/passwd",
            "/sub/src/../../page/Cargo.toml",
        ] {
            assert_eq!(ask(Method::Get, url), Answer::NotFound, "{url}");
        }
    }

    #[test]
    fn only_reading_is_allowed() {
        assert_eq!(ask(Method::Post, "/sub/Cargo.toml"), Answer::NotAllowed);
    }

    /// As browsers do: many connections at once, each kept open unless it is said to be for one answer.
    #[test]
    fn connections_that_come_at_once_are_all_answered() {
        let prefix = "sub".parse().expect("a sound prefix");
        let server = Server::start(Path::new(env!("CARGO_MANIFEST_DIR")), 0, &prefix);
        let url = server.expect("a server").url;
        let address = url.trim_start_matches("http://").split('/').next();
        let address = address.expect("an address");
        let asked: Vec<TcpStream> = (0..24)
            .map(|_| {
                let mut one = TcpStream::connect(address).expect("a connection");
                let patience = Some(Duration::from_secs(20));
                one.set_read_timeout(patience).expect("a time");
                one.write_all(b"GET /sub/Cargo.toml HTTP/1.1\r\nHost: here\r\n\r\n")
                    .expect("asked");
                one
            })
            .collect();
        let hears = |mut one: TcpStream| {
            let mut begin = [0; 15];
            one.read_exact(&mut begin).expect("an answer");
            assert_eq!(&begin[8..], b" 200 OK");
            begin.starts_with(b"HTTP/1.1").then_some(one)
        };
        let each: Vec<_> = asked
            .into_iter()
            .map(|one| thread::spawn(move || hears(one)))
            .collect();
        let kept: Vec<_> = each
            .into_iter()
            .map(|one| one.join().expect("heard"))
            .collect();
        assert_eq!(kept.len(), 24);
    }

    #[test]
    fn a_taken_port_is_passed_over() {
        let taken = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a free port");
        let port = taken.local_addr().expect("an address").port();
        let next = listen(port).expect("another port");
        assert_ne!(next.local_addr().expect("an address").port(), port);
    }
}
