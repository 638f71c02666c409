//! The strip of a picture that a row was read from: what the paper says, beside what was recognised.

use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::IntoResponse;
use tally::Digest;

use crate::reply::{Failure, Reply};
use crate::serve::Yard;

/// What is shown round the words, as a share of their height: enough to see that nothing of the row is cut off.
const MARGIN: u32 = 3;

/// How wide and high the strip of a row is, in pixels; less where the picture ends.
pub(crate) fn size([left, top, right, bottom]: [u32; 4]) -> (u32, u32) {
    let high = bottom.saturating_sub(top);
    let round = 2 * (high / MARGIN);
    let wide = right.saturating_sub(left);
    (wide.saturating_add(round), high.saturating_add(round))
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Path((list, row)): Path<(String, String)>,
) -> Reply {
    let missing = || {
        Failure::new(
            StatusCode::NOT_FOUND,
            "There is no picture of this row here.",
        )
    };
    let list: Digest = list.parse().map_err(|_| missing())?;
    let standing = yard.at_desk(|desk| desk.standing())?;
    let seen = (standing.lists.iter())
        .filter(|it| it.seen.digest == list)
        .filter_map(|it| it.read.as_ref().as_ref().ok())
        .flat_map(|read| &read.rows)
        .find(|it| it.key.to_string() == row)
        .and_then(|it| it.seen.clone())
        .ok_or_else(missing)?;
    // A list of another maker's words names a picture that is not in the job.
    let picture: Digest = seen.picture.parse().map_err(|_| missing())?;
    let page = yard
        .at_desk(|desk| desk.picture(&picture))?
        .ok_or_else(missing)?;
    let [_, top, _, bottom] = seen.strip;
    let margin = bottom.saturating_sub(top) / MARGIN;
    let strip = yard
        .with_picture(move || photo::strip(&page, seen.strip, margin))
        .await?
        .map_err(|_| missing())?;
    let headers = [
        (header::CONTENT_TYPE, "image/jpeg"),
        // The list, the row and the picture are all named by what they are.
        (
            header::CACHE_CONTROL,
            "private, max-age=31536000, immutable",
        ),
    ];
    Ok((headers, strip).into_response())
}
