//! What a file may not have, looked for before the library reads it.

use crate::error::Refusal;

/// Checks a file, and returns how much a step weighs that may unpack a part of it anew.
pub fn check(_bytes: &[u8]) -> Result<u64, Refusal> {
    Ok(1)
}
