//! The digest against published examples.

use tally::Digest;

/// The one-block and the two-block example of SHA-256, and the empty text: NIST, "Secure Hash
/// Standard" example values (FIPS 180-4). From memory (M), and the same as `sha256sum` prints.
#[test]
fn published_examples() {
    let two = b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
    for (bytes, hex) in [
        (
            &b""[..],
            "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
        ),
        (
            b"abc",
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
        ),
        (
            two,
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
    ] {
        assert_eq!(Digest::of(bytes).to_string(), hex);
        assert_eq!(hex.parse(), Ok(Digest::of(bytes)));
    }
}

#[test]
fn other_texts_are_no_digest() {
    let good = Digest::of(b"abc").to_string();
    for bad in [
        String::new(),
        good[1..].to_owned(),
        format!("{good}0"),
        good.to_uppercase(),
        good.replace('b', "g"),
        "é".repeat(32),
    ] {
        assert!(bad.parse::<Digest>().is_err(), "{bad}");
    }
}
