//! Counting from a picture: the rings that were found are a proposal, which a finger mends and a person confirms.

use axum::Extension;
use axum::extract::{Path, Query, State};
use maud::html;
use serde::Deserialize;
use tally::Digest;

use super::layout::{self, Way};
use super::{count as count_page, ways};
use crate::access::Holder;
use crate::address;
use crate::assets;
use crate::reply::{Failure, Reply, page_reply};
use crate::serve::Yard;

#[derive(Deserialize)]
pub(crate) struct Asked {
    photo: String,
}

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Path(mark): Path<String>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let missing =
        || Failure::refused("There is no such picture in this copy of the job. Take it again.");
    let digest: Digest = asked.photo.parse().map_err(|_| missing())?;
    let known = standing.state.has_picture(&digest);
    let difference = standing.difference.as_ref().and_then(|d| d.mark(&mark));
    let (Some(ordered), Some(difference), true) = (standing.ordered(), difference, known) else {
        return Err(missing());
    };
    let bytes = yard
        .at_desk(|desk| desk.picture(&digest))?
        .ok_or_else(missing)?;
    let found = yard.with_picture(move || photo::rings_in(&bytes)).await?;
    let rings =
        found.map_err(|why| Failure::refused(format!("The picture was not read: {why}.")))?;
    let content = html! {
        div.count {
            (count_page::heading(ordered, difference))
            p {
                "These rings are a proposal. " strong { "Touch a ring to take it away, touch a tube to add one." }
                " Count them against the bundle before you keep it."
            }
            div.rings data-rings=(written(&rings)) {
                img src=(address::large_photo(&asked.photo)) alt="The ends of the bundle";
            }
            noscript { div.note.wait { p { "Rings need the page's script. Count these pieces one by one instead." } } }
            (ways::by_photo(&standing, &mark, &asked.photo))
            p { a.button href=(address::count(&mark)) { "Not from this picture" } }
        }
        script type="module" src=(assets::address("rings.js")) {}
    };
    let title = format!("Count {mark} from a photo");
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Count,
        &title,
        content,
    )))
}

/// `x,y,r x,y,r …` in ten-thousandths of the picture's width, as the form sends them back.
fn written(rings: &[photo::Ring]) -> String {
    let share = |of: f32| (of * 10_000.0).round();
    let one =
        |ring: &photo::Ring| format!("{},{},{}", share(ring.x), share(ring.y), share(ring.radius));
    rings.iter().map(one).collect::<Vec<_>>().join(" ")
}
