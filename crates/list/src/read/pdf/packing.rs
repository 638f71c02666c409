//! Parts of a file unpacked; pictures are left packed.

use std::borrow::Cow;

use hayro_syntax::Filter;
use hayro_syntax::object::Stream;

/// Returns what a part holds, if it is no picture and not damaged.
pub fn plain<'a>(part: &Stream<'a>) -> Option<Cow<'a, [u8]>> {
    let picture = |filter: &Filter| {
        matches!(
            filter,
            Filter::CcittFaxDecode | Filter::Jbig2Decode | Filter::DctDecode | Filter::JpxDecode
        )
    };
    if part.filters().iter().any(picture) {
        return None;
    }
    part.decoded().ok()
}
