//! Parts of a file unpacked; pictures are left packed.

use std::borrow::Cow;
use std::io::Read;

use flate2::read::ZlibDecoder;
use hayro_syntax::Filter;
use hayro_syntax::object::Stream;
use hayro_syntax::object::dict::keys::{DECODE_PARMS, DP};

use crate::limits;

/// Returns what a part holds, if it is no picture and not damaged.
pub fn plain<'a>(part: &Stream<'a>) -> Option<Cow<'a, [u8]>> {
    let picture = |filter: &Filter| {
        matches!(
            filter,
            Filter::CcittFaxDecode | Filter::Jbig2Decode | Filter::DctDecode | Filter::JpxDecode
        )
    };
    let filters = part.filters();
    if filters.iter().any(picture) {
        return None;
    }
    let dict = part.dict();
    // The usual way to pack is unpacked by the quicker of two libraries.
    if filters[..] == [Filter::FlateDecode]
        && !dict.contains_key(DECODE_PARMS)
        && !dict.contains_key(DP)
    {
        let mut out = Vec::new();
        let most = limits::MAX_PDF_PART as u64 + 1;
        // What came before damage is there all the same.
        let _ = ZlibDecoder::new(&part.raw_data()[..])
            .take(most)
            .read_to_end(&mut out);
        if !out.is_empty() {
            return Some(Cow::Owned(out));
        }
    }
    part.decoded().ok()
}
