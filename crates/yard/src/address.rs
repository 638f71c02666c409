//! The addresses of pages that are named for a mark. Marks come from family files, but a log can hold anything.

/// The page that counts a mark.
pub(crate) fn count(mark: &str) -> String {
    format!("/count/{}", segment(mark))
}

/// The page for a second look at a mark's pile.
pub(crate) fn again(mark: &str, pile: Option<&str>) -> String {
    let pile = pile.map_or_else(String::new, |pile| format!("?pile={}", segment(pile)));
    format!("{}/again{pile}", count(mark))
}

/// The page that counts a mark at a pile; what the pile's label holds.
pub(crate) fn count_at(mark: &str, pile: &str) -> String {
    format!("{}?pile={}", count(mark), segment(pile))
}

/// The page that tells what a piece of a pile is.
pub(crate) fn tell_at(pile: &str) -> String {
    format!("/tell?pile={}", segment(pile))
}

/// The page of an open point.
pub(crate) fn point(about: &str, of: &str) -> String {
    format!("/point?about={about}&of={}", segment(of))
}

/// The ways round a shortage of a mark.
pub(crate) fn ways_of(mark: &str) -> String {
    format!("/ways#{}", segment(mark))
}

/// The card of a stage of the build.
pub(crate) fn stage(name: &str) -> String {
    format!("/stages#{}", segment(name))
}

/// The house with a stage lit, as a picture.
pub(crate) fn stage_drawing(name: &str) -> String {
    format!("/lit?stage={}", segment(name))
}

/// A picture of the job.
pub(crate) fn photo(digest: &str) -> String {
    format!("/photo/{digest}")
}

/// Its small copy.
pub(crate) fn small_photo(digest: &str) -> String {
    format!("/photo/{digest}/small")
}

/// A picture as a page shows it large.
pub(crate) fn large_photo(digest: &str) -> String {
    format!("/photo/{digest}/large")
}

/// The page that counts the rings in a picture of a bundle of a mark.
pub(crate) fn rings(mark: &str, digest: &str) -> String {
    format!("{}/rings?photo={digest}", count(mark))
}

/// Where a picture of a bundle of a mark is sent.
pub(crate) fn photo_for_count(mark: &str) -> String {
    format!("{}/photo", count(mark))
}

/// Where the conditions of a mark are sent.
pub(crate) fn condition(mark: &str) -> String {
    format!("/condition/{}", segment(mark))
}

/// The page for the ten minutes at the truck with a shipment.
pub(crate) fn tailgate(shipment: &str) -> String {
    format!("/tailgate?shipment={}", segment(shipment))
}

/// The same once it was handed over: at what was kept.
pub(crate) fn handed_over(shipment: &str) -> String {
    format!("{}&kept=1", tailgate(shipment))
}

/// The pictures of a shipment as it came, on the page of all pictures.
pub(crate) fn load_photos(shipment: &str) -> String {
    format!("/photos#load-{}", segment(shipment))
}

/// A packing list on the page of all lists.
pub(crate) fn list(digest: &str) -> String {
    format!("/list#{}", list_anchor(digest))
}

/// What a packing list is called on that page.
pub(crate) fn list_anchor(digest: &str) -> String {
    format!("list-{}", digest.chars().take(8).collect::<String>())
}

/// A row of a packing list, by where it stands in the file; of a long list it says which part the page is to show.
pub(crate) fn list_row(digest: &str, at: &str) -> String {
    let anchor = list_row_anchor(digest, at);
    format!("/list?row={anchor}#{anchor}")
}

/// What a row is called there.
pub(crate) fn list_row_anchor(digest: &str, at: &str) -> String {
    let of: String = digest.chars().take(8).collect();
    format!("row-{of}-{}", segment(at).replace('%', "-"))
}

/// The strip of a picture that a row was read from.
pub(crate) fn list_strip(digest: &str, key: &str) -> String {
    format!("/list/{digest}/strip/{}", segment(key))
}

/// The page that says why so many of a mark are needed.
pub(crate) fn why(mark: &str) -> String {
    format!("/order/{}", segment(mark))
}

/// The drawing with a mark lit.
pub(crate) fn lit(mark: &str) -> String {
    format!("/order?lit={}", segment(mark))
}

/// The drawing with one piece lit.
pub(crate) fn lit_piece(piece: usize) -> String {
    format!("/order?piece={piece}")
}

/// The page that sets the house out, with what was asked of it. Without a fragment, with which a page that is open already
/// would not be read anew.
pub(crate) fn stakes(asked: &[(&str, &str)]) -> String {
    let fields: Vec<String> = (asked.iter())
        .filter(|(_, value)| !value.trim().is_empty())
        .map(|(name, value)| format!("{name}={}", segment(value.trim())))
        .collect();
    match fields.as_slice() {
        [] => "/stakes".into(),
        fields => format!("/stakes?{}", fields.join("&")),
    }
}

/// A text as one segment of a path (RFC 3986): unreserved letters stay, every other byte becomes %XX.
pub(crate) fn segment(text: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.~".contains(&byte);
    text.bytes()
        .map(|b| {
            if plain(b) {
                char::from(b).to_string()
            } else {
                format!("%{b:02X}")
            }
        })
        .collect()
}
