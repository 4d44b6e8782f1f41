//! Serves dist/ on this machine only, with the content types a host must give.

use std::{
    fs,
    io::{BufRead, BufReader, Read, Write},
    net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream},
    path::{Component, Path, PathBuf},
    process, thread,
    time::Duration,
};

use crate::failure::Failure;

/// The port we like; any free one serves.
const PORT: u16 = 8080;

/// No request line and header of a browser comes near this many bytes.
const LONGEST_HEAD: u64 = 64 * 1024;

/// A browser opens connections it never uses; they are let go after this long.
const PATIENCE: Duration = Duration::from_secs(30);

/// Opens a port, or a free one if it is taken.
///
/// # Errors
/// If the machine has no port left.
pub(crate) fn listen(wanted: u16) -> Result<(TcpListener, SocketAddr), Failure> {
    let open = |port| {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))?;
        let address = listener.local_addr()?;
        Ok((listener, address))
    };
    open(wanted).or_else(|_| open(0)).map_err(Failure::io("opening a port on 127.0.0.1"))
}

/// Serves a folder until Ctrl-C, which ends the program with success.
///
/// # Errors
/// If no port or no Ctrl-C can be had.
pub(crate) fn until_interrupted(folder: PathBuf) -> Result<(), Failure> {
    let (listener, address) = listen(PORT)?;
    ctrlc::set_handler(|| {
        println!("\nclosed");
        process::exit(0);
    })
    .map_err(|error| Failure::new(format!("Ctrl-C cannot be heard: {error}")))?;
    println!("\nhttp://{address}/    Ctrl-C ends");
    serve(&listener, &folder);
    Ok(())
}

/// Answers every connection, each in a thread of its own.
fn serve(listener: &TcpListener, folder: &Path) {
    for stream in listener.incoming().flatten() {
        let folder = folder.to_path_buf();
        // A browser that hangs up in the middle of an answer is no fault of the page.
        thread::spawn(move || answer(stream, &folder).ok());
    }
}

fn answer(mut stream: TcpStream, folder: &Path) -> std::io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    let mut head = BufReader::new(stream.try_clone()?.take(LONGEST_HEAD)).lines();
    let Some(request) = head.next().transpose()? else { return Ok(()) };
    for line in head {
        if line?.is_empty() {
            break;
        }
    }
    let mut words = request.split(' ');
    let (method, address) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    let file = file_at(address);
    let (status, headers, body) = match (method, &file) {
        ("GET" | "HEAD", Some(file)) => match fs::read(folder.join(file)) {
            Ok(body) => {
                // Never kept unasked. Not even files with a digest in the name: Trunk takes it before wasm-opt runs,
                // so one name can stand for two contents.
                let headers = format!("Content-Type: {}\r\nCache-Control: no-cache", content_type(file));
                ("200 OK", headers, body)
            }
            Err(_) => plain("404 Not Found"),
        },
        ("GET" | "HEAD", None) => plain("404 Not Found"),
        _ => plain("405 Method Not Allowed"),
    };
    let length = body.len();
    write!(
        stream,
        "HTTP/1.1 {status}\r\n{headers}\r\nContent-Length: {length}\r\nX-Content-Type-Options: nosniff\r\nConnection: close\r\n\r\n"
    )?;
    if method != "HEAD" {
        stream.write_all(&body)?;
    }
    stream.flush()
}

fn plain(status: &'static str) -> (&'static str, String, Vec<u8>) {
    (status, "Content-Type: text/plain; charset=utf-8\r\nAllow: GET, HEAD".into(), status.into())
}

/// The file an address means, below the served folder; `None` if it leads out of it or cannot be read.
fn file_at(address: &str) -> Option<PathBuf> {
    let address = address.split(['?', '#']).next()?;
    let mut path = PathBuf::from(percent_decoded(address.strip_prefix('/')?)?);
    if !path.components().all(|part| matches!(part, Component::Normal(_))) {
        return None;
    }
    if address.ends_with('/') {
        path.push("index.html");
    }
    Some(path)
}

/// `%20` and the like undone; `None` if that gives no text.
fn percent_decoded(text: &str) -> Option<String> {
    let mut pieces = text.split('%');
    let mut bytes = pieces.next()?.as_bytes().to_vec();
    for piece in pieces {
        let digits = piece.get(..2)?;
        bytes.push(u8::from_str_radix(digits, 16).ok()?);
        bytes.extend(&piece.as_bytes()[2..]);
    }
    String::from_utf8(bytes).ok()
}

/// The content type of a file by its ending.
fn content_type(file: &Path) -> &'static str {
    match file.extension().and_then(|ending| ending.to_str()).unwrap_or("") {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Reference: WHATWG MIME Sniffing (JavaScript), WebAssembly Web API (wasm), W3C Web Application Manifest, the
    /// IANA registry of media types (the others).
    #[test]
    fn content_types_are_the_registered_ones() {
        for (name, registered) in [
            ("index.html", "text/html"),
            ("boot-1.js", "text/javascript"),
            ("app_bg.wasm", "application/wasm"),
            ("style.css", "text/css"),
            ("icon.svg", "image/svg+xml"),
            ("app.webmanifest", "application/manifest+json"),
            ("unknown", "application/octet-stream"),
        ] {
            assert_eq!(content_type(Path::new(name)).split(';').next(), Some(registered), "{name}");
        }
    }

    #[test]
    fn an_address_means_a_file_of_the_folder() {
        let file = |address| file_at(address).map(|path| path.to_str().unwrap().to_owned());
        assert_eq!(file("/").as_deref(), Some("index.html"), "the start page");
        assert_eq!(file("/icon.svg?x=1#y").as_deref(), Some("icon.svg"), "query and fragment");
        assert_eq!(file("/a%20b/c.txt").as_deref(), Some("a b/c.txt"), "RFC 3986, section 2.1");
    }

    #[test]
    fn no_address_leads_out_of_the_folder() {
        for address in [
            "/../Cargo.toml",
            "/%2e%2e/Cargo.toml",
            "/a/../../x",
            "//etc/passwd",
            "/%2Fetc/passwd",
            "x",
            "/%zz",
            "/%ff",
        ] {
            assert_eq!(file_at(address), None, "{address}");
        }
    }

    /// Reference: RFC 9110, sections 9.3.2 (HEAD) and 15.5.6 (405).
    #[test]
    fn a_browser_gets_files_and_nothing_else() {
        let folder = std::env::temp_dir().join(format!("hosewright-serve-{}", process::id()));
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("index.html"), "<p>hose</p>").unwrap();
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap();
        let address = listener.local_addr().unwrap();
        let served = folder.clone();
        thread::spawn(move || serve(&listener, &served));
        let ask = |request: &str| {
            let mut stream = TcpStream::connect(address).unwrap();
            write!(stream, "{request} HTTP/1.1\r\nHost: here\r\n\r\n").unwrap();
            let mut answer = String::new();
            stream.read_to_string(&mut answer).unwrap();
            answer
        };
        let page = ask("GET /");
        assert!(page.contains("Cache-Control: no-cache\r\n"), "{page}");
        assert!(page.starts_with("HTTP/1.1 200 OK\r\n") && page.ends_with("\r\n\r\n<p>hose</p>"), "{page}");
        let head = ask("HEAD /index.html");
        assert!(head.contains("Content-Length: 11\r\n") && head.ends_with("\r\n\r\n"), "{head}");
        assert!(ask("GET /no-such-file").starts_with("HTTP/1.1 404 "), "a file that is not there");
        assert!(ask("GET /../Cargo.toml").starts_with("HTTP/1.1 404 "), "a way out");
        assert!(ask("POST /").starts_with("HTTP/1.1 405 "), "nothing is taken");
        fs::remove_dir_all(&folder).unwrap();
    }
}
