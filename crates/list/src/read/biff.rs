//! The records of an old workbook, and texts that run on over several of them ([MS-XLS] 2.1.4, 2.5.293).

use encoding_rs::Encoding;

/// One record: its type, its bytes, and the pieces that continue it.
pub struct Record<'a> {
    /// Its type.
    pub kind: u16,
    /// Its bytes.
    pub data: &'a [u8],
    /// What the records after it continue.
    pub more: Vec<&'a [u8]>,
}

impl Record<'_> {
    /// Two bytes at a place; nought where there are none.
    pub fn u16(&self, at: usize) -> u16 {
        u16_at(self.data, at)
    }

    /// Four bytes at a place.
    pub fn u32(&self, at: usize) -> u32 {
        u32::from(self.u16(at)) | u32::from(self.u16(at + 2)) << 16
    }

    /// A floating-point number at a place.
    pub fn f64(&self, at: usize) -> f64 {
        let bytes = self
            .data
            .get(at..at + 8)
            .and_then(|bytes| bytes.try_into().ok());
        f64::from_le_bytes(bytes.unwrap_or_default())
    }
}

/// Two bytes at a place of a slice; nought where there are none.
pub fn u16_at(data: &[u8], at: usize) -> u16 {
    let byte = |at: usize| data.get(at).copied().unwrap_or_default();
    u16::from_le_bytes([byte(at), byte(at + 1)])
}

/// The number in four bytes: whole or floating, maybe a hundredth ([MS-XLS] 2.5.217).
pub fn rk(bits: u32) -> f64 {
    let number = if bits & 2 == 0 {
        f64::from_bits(u64::from(bits & !3) << 32)
    } else {
        f64::from(bits as i32 >> 2)
    };
    if bits & 1 == 0 {
        number
    } else {
        number / 100.0
    }
}

/// Walks over the records from a place; ends at the first that is cut off.
pub struct Records<'a> {
    stream: &'a [u8],
}

impl<'a> Records<'a> {
    /// The records from a place on.
    pub fn from(stream: &'a [u8], at: usize) -> Self {
        let stream = stream.get(at..).unwrap_or_default();
        Self { stream }
    }

    fn take(&mut self) -> Option<(u16, &'a [u8])> {
        let length = usize::from(u16_at(self.stream.get(..4)?, 2));
        let kind = u16_at(self.stream, 0);
        let data = self.stream.get(4..4 + length)?;
        self.stream = &self.stream[4 + length..];
        Some((kind, data))
    }
}

impl<'a> Iterator for Records<'a> {
    type Item = Record<'a>;

    fn next(&mut self) -> Option<Record<'a>> {
        const CONTINUE: u16 = 0x003C;
        let (kind, data) = self.take()?;
        let mut more = Vec::new();
        while self.stream.len() >= 4 && u16_at(self.stream, 0) == CONTINUE {
            more.push(self.take()?.1);
        }
        Some(Record { kind, data, more })
    }
}

/// Reads on over the pieces of a record.
pub struct Pieces<'a> {
    pieces: Vec<&'a [u8]>,
    piece: usize,
    at: usize,
}

/// A text and where its fonts change.
pub struct RichText {
    /// The characters.
    pub units: Vec<u16>,
    /// From which character on which font.
    pub runs: Vec<(usize, u16)>,
}

impl<'a> Pieces<'a> {
    /// From a place of the record on.
    pub fn of(record: &Record<'a>, at: usize) -> Self {
        let mut pieces = vec![record.data];
        pieces.extend(&record.more);
        Self {
            pieces,
            piece: 0,
            at,
        }
    }

    fn byte(&mut self) -> Option<u8> {
        loop {
            let piece = self.pieces.get(self.piece)?;
            if let Some(byte) = piece.get(self.at) {
                self.at += 1;
                return Some(*byte);
            }
            self.piece += 1;
            self.at = 0;
        }
    }

    fn u16(&mut self) -> Option<u16> {
        Some(u16::from_le_bytes([self.byte()?, self.byte()?]))
    }

    /// Steps over bytes, piece by piece.
    fn skip(&mut self, mut bytes: usize) -> Option<()> {
        while bytes > 0 {
            let left = self.pieces.get(self.piece)?.len().saturating_sub(self.at);
            if left >= bytes {
                self.at += bytes;
                return Some(());
            }
            bytes -= left;
            self.piece += 1;
            self.at = 0;
        }
        Some(())
    }

    /// Reads a text of 16-bit or 8-bit characters. Where it runs on into the next piece, a byte there says anew which.
    pub fn text(&mut self) -> Option<RichText> {
        let length = usize::from(self.u16()?);
        self.text_of(length)
    }

    /// Reads a text whose length is known.
    pub fn text_of(&mut self, length: usize) -> Option<RichText> {
        let flags = self.byte()?;
        let mut wide = flags & 1 != 0;
        let runs = if flags & 8 != 0 {
            usize::from(self.u16()?)
        } else {
            0
        };
        let extra = if flags & 4 != 0 {
            usize::from(self.u16()?) | usize::from(self.u16()?) << 16
        } else {
            0
        };
        let mut units = Vec::new();
        while units.len() < length {
            if self.at >= self.pieces.get(self.piece)?.len() {
                self.piece += 1;
                self.at = 0;
                wide = self.byte()? & 1 != 0;
            }
            units.push(if wide {
                self.u16()?
            } else {
                u16::from(self.byte()?)
            });
        }
        let mut fonts = Vec::new();
        for _ in 0..runs {
            fonts.push((usize::from(self.u16()?), self.u16()?));
        }
        self.skip(extra)?;
        Some(RichText { units, runs: fonts })
    }
}

/// Reads a text of single bytes, as before 1997, in the workbook's code page.
pub fn byte_text(data: &[u8], at: usize, length: usize, encoding: &'static Encoding) -> String {
    let end = (at + length).min(data.len());
    let bytes = data.get(at..end).unwrap_or_default();
    encoding.decode_without_bom_handling(bytes).0.into_owned()
}

/// The encoding of a Windows code page.
pub fn code_page(number: u16) -> &'static Encoding {
    let label = format!("windows-{number}");
    Encoding::for_label(label.as_bytes()).unwrap_or(encoding_rs::WINDOWS_1252)
}
