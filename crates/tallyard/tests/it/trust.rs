//! The safe address: who is served there, what is said of it, and what keeps it shut.

mod certificate;
mod in_browser;

use std::fs;
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use rustls::pki_types::ServerName;
use rustls::{ClientConfig, ClientConnection, RootCertStore, StreamOwned};

use crate::program::{PROGRAM, Place};
use crate::schema;
use crate::yard::{Running, id};

fn opened(place: &Place) -> Running {
    Running::open(PROGRAM, &place.path("demo.tallyard"))
}

/// Whether a command of OpenSSL's succeeds, and what it says.
fn openssl(place: &Place, arguments: &[&str]) -> (bool, String) {
    let ran = Command::new("openssl")
        .args(arguments)
        .current_dir(place.path(""))
        .output()
        .expect("openssl is there; ./test installs it");
    let said = [ran.stdout, ran.stderr].concat();
    (
        ran.status.success(),
        String::from_utf8_lossy(&said).into_owned(),
    )
}

/// A client that trusts one certificate and nothing else.
fn trusting(certificate: &[u8]) -> Arc<ClientConfig> {
    let mut roots = RootCertStore::empty();
    roots.add(certificate.to_vec().into()).unwrap();
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let config = ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .unwrap()
        .with_root_certificates(roots)
        .with_no_client_auth();
    Arc::new(config)
}

/// What the safe address answers to a request that is written out.
fn asked(yard: &Running, client: &Arc<ClientConfig>, request: &str) -> std::io::Result<String> {
    let at = yard.said("safe_address").strip_prefix("https://").unwrap();
    let tcp = TcpStream::connect(at)?;
    tcp.set_read_timeout(Some(crate::yard::PATIENCE))?;
    let name = ServerName::try_from("127.0.0.1").unwrap();
    let client = ClientConnection::new(client.clone(), name).map_err(std::io::Error::other)?;
    let mut tls = StreamOwned::new(client, tcp);
    tls.write_all(request.as_bytes())?;
    let mut answer = String::new();
    tls.read_to_string(&mut answer)?;
    Ok(answer)
}

fn get(path: &str, cookie: &str) -> String {
    format!(
        "GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n"
    )
}

fn post(path: &str, cookie: &str, form: &str) -> String {
    format!(
        "POST {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: {cookie}\r\nConnection: close\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{form}",
        form.len()
    )
}

#[test]
fn a_phone_that_trusts_the_certificate_is_served_and_another_is_not() {
    let place = Place::with_demo_job();
    let yard = opened(&place);
    schema::check("yard", &yard.opened);
    // As a phone gets it: over the plain address, before joining.
    let given = yard.stranger().get("/trust/tallyard.crt");
    assert_eq!(
        (given.status, given.header("content-type")),
        (200, Some("application/x-x509-ca-cert"))
    );
    let page = asked(&yard, &trusting(&given.body), &get("/trust", "")).unwrap();
    assert!(page.starts_with("HTTP/1.1 200"), "{page}");
    assert!(page.contains("This is the safe address."), "{page}");

    // One that trusts another computer's authority of the same making.
    let other = Place::with_demo_job();
    let other = opened(&other).stranger().get("/trust/tallyard.crt");
    let refused = asked(&yard, &trusting(&other.body), &get("/trust", "")).unwrap_err();
    assert!(refused.to_string().contains("certificate"), "{refused}");
}

#[test]
fn one_fingerprint_everywhere() {
    let place = Place::with_demo_job();
    let yard = opened(&place);
    place.write("given.crt", yard.stranger().get("/trust/tallyard.crt").body);
    let (_, said) = openssl(
        &place,
        &[
            "x509",
            "-inform",
            "DER",
            "-in",
            "given.crt",
            "-noout",
            "-fingerprint",
            "-sha256",
        ],
    );
    let pairs = said.trim().rsplit('=').next().unwrap().replace(':', "");
    assert_eq!(yard.said("fingerprint").replace(' ', ""), pairs);
    for page in [
        yard.stranger().get("/trust").text(),
        yard.joined("Ada").get("/phones").text(),
    ] {
        for group in yard.said("fingerprint").split(' ') {
            assert!(
                page.contains(&format!("<span>{group}</span>")),
                "{group}\n{page}"
            );
        }
    }
}

/// Without a safe address the yard opens all the same, and says why.
#[test]
fn what_stands_in_its_way_is_said_and_the_plain_address_serves() {
    let check = |prepare: &dyn Fn(&Path), more: &[&Path], says: &str| {
        let place = Place::with_demo_job();
        prepare(&place.path("tallyard"));
        let yard = Running::open_with(PROGRAM, &place.path("demo.tallyard"), more);
        schema::check("yard", &yard.opened);
        assert!(
            yard.said("no_safe_address").contains(says),
            "{:?}",
            yard.opened
        );
        let trust = yard.stranger().get("/trust");
        assert_eq!(trust.status, 200);
        assert!(
            trust.text().contains("There is no safe address now"),
            "{}",
            trust.text()
        );
        assert_eq!(yard.stranger().get("/trust/tallyard.crt").status, 404);
        let phone = yard.joined("Ada");
        assert!(
            phone
                .get("/phones")
                .text()
                .contains("There is no safe address now")
        );
        let counted = phone.post("/count/P1", &[("id", &id(1)), ("quantity", "1")]);
        assert_eq!(counted.status, 303);
    };
    // The folder is a file. (Tests may run as root, whom no mode keeps out.)
    check(&|keeps| fs::write(keeps, "mine").unwrap(), &[], "tallyard");
    let damage = |keeps: &Path| {
        fs::create_dir(keeps).unwrap();
        fs::write(keeps.join("authority.toml"), "until = 3").unwrap();
    };
    check(&damage, &[], "authority.toml is damaged");
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let at = taken.local_addr().unwrap().to_string();
    let asked = [Path::new("--safe-listen"), Path::new(&at)];
    check(&|_| {}, &asked, "Address already in use");
}

#[test]
fn the_next_port_is_the_safe_one() {
    let place = Place::with_demo_job();
    for _ in 0..20 {
        // A port that was free a moment ago, with its neighbour; another program may take either.
        let free = TcpListener::bind("127.0.0.1:0")
            .unwrap()
            .local_addr()
            .unwrap();
        let mut yard = place
            .command(&[
                "yard",
                "demo.tallyard",
                "--json",
                "--listen",
                &free.to_string(),
            ])
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::null())
            .spawn()
            .unwrap();
        let mut said = [0; 4096];
        let read = yard.stdout.take().unwrap().read(&mut said).unwrap();
        yard.kill().unwrap();
        yard.wait().unwrap();
        let said = String::from_utf8_lossy(&said[..read]).into_owned();
        let next = free.port().wrapping_add(1);
        if said.contains(&format!("\"https://127.0.0.1:{next}\"")) {
            // Its folder, where no other is named.
            assert!(place.path(".local/share/tallyard/authority.toml").is_file());
            return;
        }
    }
    panic!("the port after the plain one is never the safe one");
}

#[test]
fn one_joining_is_enough_for_both_unless_it_was_at_the_safe_address() {
    let place = Place::with_demo_job();
    let yard = opened(&place);
    let client = trusting(&yard.stranger().get("/trust/tallyard.crt").body);
    let plain = yard.joined("Ada").cookie.unwrap();
    let count = format!("id={}&quantity=1", id(1));
    let answer = asked(&yard, &client, &post("/count/P1", &plain, &count)).unwrap();
    assert!(answer.starts_with("HTTP/1.1 303"), "{answer}");
    assert_eq!(yard.log().last().unwrap().who, "Ada");

    let form = format!("code={}&who=Ben", yard.said("join_code"));
    let joined = asked(&yard, &client, &post("/join", "", &form)).unwrap();
    let header = joined
        .lines()
        .find_map(|line| line.strip_prefix("set-cookie: "))
        .unwrap();
    // RFC 6265bis, 4.1.3.2: such a name holds a browser to all of these.
    let (cookie, flags) = header.split_once("; ").unwrap();
    let flags: Vec<&str> = flags.split("; ").collect();
    assert!(cookie.starts_with("__Host-tallyard="), "{header}");
    assert!(flags.contains(&"Secure") && flags.contains(&"Path=/") && flags.contains(&"HttpOnly"));
    assert!(!header.contains("Domain"));
    let glance = asked(&yard, &client, &get("/", &format!("{cookie}; {plain}"))).unwrap();
    assert!(glance.contains("Phones · Ben"), "the safe one goes first");
}

/// Cookies go by names, so the way to the safe address keeps the name by which the phone came, where it can.
#[test]
fn the_way_to_the_safe_address_keeps_the_name() {
    let place = Place::with_demo_job();
    let yard = opened(&place);
    let page = |host: &str| {
        let mut plain = TcpStream::connect(yard.said("listening")).unwrap();
        let request = format!("GET /trust HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n");
        plain.write_all(request.as_bytes()).unwrap();
        let mut page = String::new();
        plain.read_to_string(&mut page).unwrap();
        page
    };
    let safe = yard.said("safe_address");
    let port = safe.rsplit(':').next().unwrap();
    for (host, leads) in [
        ("LocalHost:7411", format!("https://localhost:{port}/")),
        ("[::1]:7411", format!("https://[::1]:{port}/")),
        ("evil.example", format!("{safe}/")),
        ("127.0.0.1.evil.example:1", format!("{safe}/")),
        ("x@evil.example", format!("{safe}/")),
    ] {
        let page = page(host);
        assert!(
            page.contains(&format!("href=\"{leads}\"")),
            "{host}\n{page}"
        );
        assert!(!page.contains("evil"), "{host}\n{page}");
    }
}

#[test]
fn it_stops_when_it_is_told_whoever_dawdles_at_the_safe_address() {
    let place = Place::with_demo_job();
    let yard = opened(&place);
    let client = trusting(&yard.stranger().get("/trust/tallyard.crt").body);
    let at = yard
        .said("safe_address")
        .strip_prefix("https://")
        .unwrap()
        .to_string();
    // None of these ever agrees on a key.
    let silent: Vec<TcpStream> = (0..60).map(|_| TcpStream::connect(&at).unwrap()).collect();
    let mut half = TcpStream::connect(&at).unwrap();
    half.write_all(&[0x16, 0x03, 0x01]).unwrap();
    let answer = asked(&yard, &client, &get("/trust", "")).unwrap();
    assert!(answer.starts_with("HTTP/1.1 200"));
    // Plain HTTP there is no handshake, and harms nothing.
    let mut plain = TcpStream::connect(&at).unwrap();
    plain.write_all(b"GET / HTTP/1.1\r\n\r\n").unwrap();
    assert!(yard.stop().success());
    drop(silent);
}
