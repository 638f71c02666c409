//! What a file may not have, looked for before the library reads it: it unpacks whole, and goes down into nested
//! arrays as deep as they are.

use std::io::Read;

use flate2::read::{DeflateDecoder, ZlibDecoder};

use crate::error::Refusal;
use crate::limits;

/// Deepest nesting of brackets; an honest file has less than twenty. Chance brackets in packed parts of the largest
/// file that is read come to about 2 000, and the library takes some hundred bytes of stack for each.
const DEEPEST: u32 = 4_000;

/// Most layers of packing around one part.
const LAYERS: usize = 4;

/// Checks parts of a file, one after the other.
#[derive(Default)]
pub struct Gate {
    unpacked: u64,
}

impl Gate {
    /// Checks the file as it stands: its nesting, and what each of its parts unpacks to.
    pub fn file(&mut self, bytes: &[u8]) -> Result<(), Refusal> {
        nesting(bytes)?;
        for (head, data) in parts(bytes) {
            self.part(head, data)?;
        }
        Ok(())
    }

    /// Checks one part: the bytes before it that say how it is packed, and its data.
    pub fn part(&mut self, head: &[u8], data: &[u8]) -> Result<(), Refusal> {
        // Names may be written with number signs, which hide what they say.
        let says = |name: &[u8]| has(head, name) || head.contains(&b'#');
        let mut layer = Layer::Raw(data);
        for _ in 0..LAYERS {
            let bytes = layer.bytes();
            let next = if let Some(flat) = self.inflate(bytes)? {
                flat
            } else if says(b"85") && bytes.iter().all(|byte| byte.is_ascii()) {
                ascii_85(bytes)
            } else if says(b"AHx") || says(b"Hex") {
                hex(bytes)
            } else {
                if says(b"LZW") || says(b"RunLength") || says(b"RL") {
                    self.count(lzw_length(bytes).max(run_length(bytes)))?;
                }
                return Ok(());
            };
            if next.is_empty() {
                return Ok(());
            }
            nesting(&next)?;
            layer = Layer::Flat(next);
        }
        Err(Refusal::PdfLoop("packed parts"))
    }

    /// Unpacks as far as the library would. Nothing when this is not packed so.
    fn inflate(&mut self, data: &[u8]) -> Result<Option<Vec<u8>>, Refusal> {
        let zlib = |data: &[u8]| {
            data.len() > 2
                && data[0] & 0x0f == 8
                && (u32::from(data[0]) << 8 | u32::from(data[1])) % 31 == 0
        };
        let most = limits::MAX_PDF_PART as u64 + 1;
        let mut out = Vec::new();
        if zlib(data) {
            // What came before damage is there all the same.
            let _ = ZlibDecoder::new(data).take(most).read_to_end(&mut out);
        }
        if out.is_empty() {
            let _ = DeflateDecoder::new(data).take(most).read_to_end(&mut out);
        }
        // By chance some bytes of anything unpack.
        if out.len() < 64 && !zlib(data) {
            return Ok(None);
        }
        self.count(out.len() as u64)?;
        Ok(Some(out))
    }

    fn count(&mut self, length: u64) -> Result<(), Refusal> {
        self.unpacked += length;
        if length > limits::MAX_PDF_PART as u64 {
            return Err(Refusal::PdfBomb(limits::MAX_PDF_PART >> 20));
        }
        if self.unpacked > limits::MAX_PDF_UNPACKED {
            return Err(Refusal::PdfBomb((limits::MAX_PDF_UNPACKED >> 20) as usize));
        }
        Ok(())
    }
}

enum Layer<'a> {
    Raw(&'a [u8]),
    Flat(Vec<u8>),
}

impl Layer<'_> {
    fn bytes(&self) -> &[u8] {
        match self {
            Layer::Raw(bytes) => bytes,
            Layer::Flat(bytes) => bytes,
        }
    }
}

/// Finds the packed parts as they stand in the file, each with the bytes before it back to where its object begins.
pub fn parts(bytes: &[u8]) -> impl Iterator<Item = (&[u8], &[u8])> {
    let mut from = 0;
    std::iter::from_fn(move || {
        let at = from + find(&bytes[from..], b"stream")?;
        let start = at + 6;
        let end = find(&bytes[start..], b"endstream").map_or(bytes.len(), |end| start + end);
        let back = &bytes[from.max(at.saturating_sub(4_096))..at];
        let head = back
            .windows(3)
            .rposition(|word| word == b"obj")
            .map_or(back, |object| &back[object..]);
        let line = bytes[start..end]
            .iter()
            .take_while(|byte| matches!(byte, b'\r' | b'\n' | b' '));
        let data = &bytes[start + line.take(2).count()..end];
        from = (end + 9).min(bytes.len());
        Some((head, data))
    })
}

/// Counts how deep brackets go, and how many drawing states are put away and never taken back.
fn nesting(bytes: &[u8]) -> Result<(), Refusal> {
    let (mut depth, mut states) = (0_u32, 0_u32);
    let mut before = b' ';
    for (index, byte) in bytes.iter().enumerate() {
        let alone = || {
            before.is_ascii_whitespace() && bytes.get(index + 1).is_none_or(u8::is_ascii_whitespace)
        };
        match byte {
            b'[' | b'<' | b'{' => depth += 1,
            b']' | b'>' | b'}' => depth = depth.saturating_sub(1),
            b'q' if alone() => states += 1,
            b'Q' if alone() => states = states.saturating_sub(1),
            _ => {}
        }
        if depth > DEEPEST {
            return Err(Refusal::PdfLoop("brackets"));
        }
        if states > DEEPEST {
            return Err(Refusal::PdfLoop("drawings"));
        }
        before = *byte;
    }
    Ok(())
}

fn ascii_85(data: &[u8]) -> Vec<u8> {
    let mut out = Vec::new();
    let (mut group, mut count) = (0_u32, 0);
    for byte in data {
        match byte {
            b'~' => break,
            b'z' if count == 0 => out.extend([0; 4]),
            b'!'..=b'u' => {
                group = group.wrapping_mul(85).wrapping_add(u32::from(byte - b'!'));
                count += 1;
                if count == 5 {
                    out.extend(group.to_be_bytes());
                    (group, count) = (0, 0);
                }
            }
            _ => {}
        }
    }
    if count > 1 {
        for _ in count..5 {
            group = group.wrapping_mul(85).wrapping_add(84);
        }
        out.extend(&group.to_be_bytes()[..count - 1]);
    }
    out
}

fn hex(data: &[u8]) -> Vec<u8> {
    let digits = data.iter().take_while(|byte| **byte != b'>');
    let digits: Vec<u8> = digits
        .filter_map(|byte| char::from(*byte).to_digit(16).map(|digit| digit as u8))
        .collect();
    digits
        .chunks(2)
        .map(|pair| pair[0] << 4 | pair.get(1).unwrap_or(&0))
        .collect()
}

/// Returns how long LZW data is unpacked, without unpacking it: each code is one longer than one before.
fn lzw_length(data: &[u8]) -> u64 {
    const CLEAR: usize = 256;
    let (mut lengths, mut width) = (vec![1_u64; 258], 9);
    let (mut bits, mut have, mut total) = (0_u32, 0, 0_u64);
    let mut last: Option<u64> = None;
    for byte in data {
        bits = bits << 8 | u32::from(*byte);
        have += 8;
        if have < width {
            continue;
        }
        have -= width;
        let code = (bits >> have) as usize & ((1 << width) - 1);
        bits &= (1 << have) - 1;
        if code == CLEAR {
            lengths.truncate(258);
            (width, last) = (9, None);
            continue;
        }
        // The end, or a code that is not known yet: the library stops there, too.
        let length = match (lengths.get(code), last) {
            (Some(_), _) if code == 257 => break,
            (Some(length), _) => *length,
            (None, Some(last)) if code == lengths.len() => last + 1,
            (None, _) => break,
        };
        total += length;
        if let Some(last) = last
            && lengths.len() < 4_096
        {
            lengths.push(last + 1);
        }
        last = Some(length);
        width = match lengths.len() + 1 {
            0..=511 => 9,
            512..=1_023 => 10,
            1_024..=2_047 => 11,
            _ => 12,
        };
    }
    total
}

fn run_length(data: &[u8]) -> u64 {
    let (mut at, mut total) = (0, 0);
    while let Some(count) = data.get(at) {
        match count {
            0..=127 => {
                total += u64::from(*count) + 1;
                at += usize::from(*count) + 2;
            }
            128 => break,
            129.. => {
                total += 257 - u64::from(*count);
                at += 2;
            }
        }
    }
    total
}

/// Whether some bytes have others in them.
pub fn has(bytes: &[u8], needle: &[u8]) -> bool {
    find(bytes, needle).is_some()
}

/// Finds the first place of some bytes in others.
pub fn find(bytes: &[u8], needle: &[u8]) -> Option<usize> {
    let first = *needle.first()?;
    let mut from = 0;
    while let Some(step) = bytes.get(from..)?.iter().position(|byte| *byte == first) {
        let at = from + step;
        if bytes[at..].starts_with(needle) {
            return Some(at);
        }
        from = at + 1;
    }
    None
}
