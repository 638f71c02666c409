//! E-mail (RFC 5322, MIME) into the files that it carries: attachments, and the message's own text.

use mail_parser::{Address, Message, MessageParser, MessagePart, MimeHeaders, PartType};

use crate::error::Refusal;
use crate::limits;
use crate::read::inside::{Inner, Opened};
use crate::read::text;

/// Lines of headers that only a mail has, in lower case.
const SURE: [&str; 9] = [
    "mime-version:",
    "received:",
    "return-path:",
    "message-id:",
    "delivered-to:",
    "content-type:",
    "content-transfer-encoding:",
    "dkim-signature:",
    "x-mailer:",
];

/// Whether the bytes begin with the headers of a mail; text that was pasted with a "From:" above it does not.
pub fn is_mail(bytes: &[u8]) -> bool {
    let start = &bytes[..bytes.len().min(64 << 10)];
    let start = String::from_utf8_lossy(start);
    let start = start.trim_start_matches('\u{feff}').trim_start();
    let mut lines = start.lines();
    if start.starts_with("From ") {
        lines.next();
    }
    let (mut named, mut sure) = (0, 0);
    for line in lines {
        if line.trim().is_empty() {
            break;
        }
        if line.starts_with([' ', '\t']) && named > 0 {
            continue;
        }
        let Some((name, _)) = line.split_once(':') else {
            return false;
        };
        if name.is_empty() || !name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-') {
            return false;
        }
        let lower = format!("{}:", name.to_ascii_lowercase());
        named += 1;
        sure += usize::from(SURE.contains(&lower.as_str()));
    }
    named >= 2 && sure >= 1
}

/// Takes a mail apart. Mails inside it come as files of their own, which are opened in turn.
pub fn open(bytes: &[u8]) -> Result<Opened, Refusal> {
    let bytes = one_message(bytes)?;
    if may_nest_deeply(bytes) {
        return Err(Refusal::TooDeep);
    }
    let unreadable = || Refusal::Damaged("its headers are no mail's".into());
    let message = MessageParser::new().parse(bytes).ok_or_else(unreadable)?;
    let mut opened = Opened {
        from: message.from().and_then(sender),
        date: message
            .date()
            .map(|date| format!("{:04}-{:02}-{:02}", date.year, date.month, date.day)),
        subject: message
            .subject()
            .map(|subject| text::clean(text::cut(subject, 512)).0.into_owned()),
        ..Opened::default()
    };
    for (index, part) in message.attachments().enumerate() {
        if index >= limits::MAX_ATTACHMENTS {
            opened.warnings.push(format!(
                "the mail has more than {} attachments; the others were not looked at",
                limits::MAX_ATTACHMENTS
            ));
            break;
        }
        let name = part
            .attachment_name()
            .unwrap_or("an attachment without a name");
        let bytes = match &part.body {
            PartType::Text(text) | PartType::Html(text) => text.as_bytes().to_vec(),
            PartType::Binary(bytes) | PartType::InlineBinary(bytes) => bytes.to_vec(),
            PartType::Message(inner) => inner.raw_message().to_vec(),
            PartType::Multipart(_) => continue,
        };
        opened.files.push(Inner::new(name, bytes));
    }
    // A list that came as a part of its own to be shown below the text, such as a CSV.
    for part in message.text_bodies() {
        if let PartType::Text(text) = &part.body
            && !is_own_text(part)
        {
            let name = part.attachment_name().unwrap_or("a part without a name");
            opened
                .files
                .push(Inner::new(name, text.as_bytes().to_vec()));
        }
    }
    opened.bodies = bodies(&message);
    Ok(opened)
}

/// Whether so many parts may be messages that they could stand inside each other without end. The library keeps them
/// inside each other too, and the machine's stack is used up when they are let go.
fn may_nest_deeply(bytes: &[u8]) -> bool {
    const WORDS: [&[u8]; 3] = [b"rfc822", b"digest", b"global"];
    let starts = |(at, byte): (usize, &u8)| {
        matches!(byte.to_ascii_lowercase(), b'r' | b'd' | b'g')
            && bytes
                .get(at..at + 6)
                .is_some_and(|word| WORDS.iter().any(|w| w.eq_ignore_ascii_case(word)))
    };
    bytes
        .iter()
        .enumerate()
        .filter(|found| starts(*found))
        .take(limits::MAX_DEPTH)
        .count()
        >= limits::MAX_DEPTH
}

/// Whether a part is plain text without a name, as a message's own is.
fn is_own_text(part: &MessagePart<'_>) -> bool {
    let plain = part.content_type().is_none_or(|kind| {
        kind.subtype()
            .is_none_or(|kind| kind.eq_ignore_ascii_case("plain"))
    });
    plain && part.attachment_name().is_none()
}

/// The message's own text: as a page if it has one, then as plain text.
fn bodies(message: &Message<'_>) -> Vec<Inner> {
    let mut bodies = Vec::new();
    let html: Vec<&str> = (message.html_bodies())
        .filter_map(|part| match &part.body {
            PartType::Html(text) => Some(text.as_ref()),
            _ => None,
        })
        .collect();
    let plain: Vec<&str> = (message.text_bodies())
        .filter_map(|part| match &part.body {
            PartType::Text(text) if is_own_text(part) => Some(text.as_ref()),
            _ => None,
        })
        .collect();
    if !html.is_empty() {
        // A page's own word on its encoding no longer holds: the mail has been decoded.
        let text = format!("\u{feff}{}", html.join("\n"));
        bodies.push(Inner::new("the message", text.into_bytes()));
    }
    if !plain.is_empty() {
        bodies.push(Inner::new("the message", plain.join("\n").into_bytes()));
    }
    bodies
}

fn sender(address: &Address<'_>) -> Option<String> {
    let first = address.first()?;
    let name = first.name.as_deref().filter(|name| !name.trim().is_empty());
    let said = name.or(first.address.as_deref())?;
    Some(text::clean(text::cut(said, 256)).0.into_owned())
}

/// Takes the one message out of a mailbox file; several are refused, since they may hold several lists.
fn one_message(bytes: &[u8]) -> Result<&[u8], Refusal> {
    let trimmed = bytes
        .strip_prefix(b"\xEF\xBB\xBF")
        .unwrap_or(bytes)
        .trim_ascii_start();
    if !trimmed.starts_with(b"From ") {
        return Ok(trimmed);
    }
    let starts = |text: &[u8]| text.windows(6).filter(|w| *w == b"\nFrom ").count();
    let blank_before = (trimmed.windows(7)).filter(|w| *w == b"\n\nFrom ").count()
        + (trimmed.windows(9))
            .filter(|w| *w == b"\r\n\r\nFrom ")
            .count();
    if starts(trimmed) > 0 && blank_before > 0 {
        return Err(Refusal::Mailbox(blank_before + 1));
    }
    let end = trimmed
        .iter()
        .position(|b| *b == b'\n')
        .map_or(trimmed.len(), |at| at + 1);
    Ok(&trimmed[end..])
}
