//! The pages that a phone takes along for when it is out of reach: all in one answer, made by the pages themselves.

use std::collections::BTreeMap;

use axum::body::{Body, to_bytes};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::{Extension, Json, Router};
use tally::{Digest, Standing};
use tower::ServiceExt;

use crate::access::Holder;
use crate::pages::points;
use crate::reply::{Failure, Reply};
use crate::serve::Yard;
use crate::{address, assets, pages};

/// Pages of use to someone who counts where nothing can be reached, beside each mark's own.
const PAGES: [&str; 12] = [
    "/count",
    "/",
    "/difference",
    "/points",
    "/tell",
    "/photos",
    "/piles",
    "/look-alikes",
    "/tailgate",
    "/ready",
    "/stages",
    "/laydown",
];
/// The most marks that are taken along; an order has some dozens.
const MOST_MARKS: usize = 500;
/// The most open points that are taken along.
const MOST_POINTS: usize = 50;
/// The most shipments whose page at the truck is taken along.
const MOST_GATES: usize = 8;
/// Far more than any page has, in bytes.
const MOST_PAGE: usize = 4 << 20;

/// The routes of the job's pages, as they answer whoever has been let in.
#[derive(Clone)]
pub(crate) struct Pages(pub Router);

/// All pages by path. The answer's tag follows from all that they follow from, so that an unchanged job is not sent
/// again.
pub(crate) async fn all(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Extension(pages): Extension<Pages>,
    headers: HeaderMap,
) -> Reply {
    let (standing, upto) = yard.at_desk(|desk| Ok((desk.standing()?, desk.upto())))?;
    let tag = tag(&holder, upto);
    let known = headers.get(header::IF_NONE_MATCH);
    if known.is_some_and(|known| known.as_bytes() == tag.as_bytes()) {
        return Ok((StatusCode::NOT_MODIFIED, [(header::ETAG, tag)]).into_response());
    }
    let mut taken = BTreeMap::new();
    for path in paths(&standing) {
        if let Some(page) = page(&pages, &holder, &path).await? {
            taken.insert(path, page);
        }
    }
    Ok(([(header::ETAG, tag)], Json(taken)).into_response())
}

fn tag(holder: &Holder, upto: i64) -> String {
    let (job, device, who) = (holder.job, &holder.device, &holder.who);
    let from = format!("{job} {upto} {device} {who} {}", assets::version());
    format!("\"{}\"", &Digest::of(from.as_bytes()).to_string()[..32])
}

fn paths(standing: &Standing) -> Vec<String> {
    let marks = standing.ordered().map(|ordered| ordered.parts.marks());
    let marks = marks.into_iter().flatten().take(MOST_MARKS);
    // A second look is most often asked for away from the table.
    let looks = (standing.state.marks.iter())
        .flat_map(|(mark, seen)| seen.piles().into_iter().map(move |pile| (mark, pile)))
        .take(MOST_MARKS)
        .map(|(mark, pile)| address::again(mark, pile.pile.as_deref()));
    // Whichever truck comes first.
    let gates = pages::tailgate::awaited(standing);
    let gates = gates
        .iter()
        .take(MOST_GATES)
        .map(|shipment| address::tailgate(shipment));
    (PAGES.iter().map(ToString::to_string))
        .chain(gates)
        .chain(marks.map(address::count))
        .chain(looks)
        .chain(points::addresses(standing).take(MOST_POINTS))
        .collect()
}

/// A page as its holder would get it; nothing where it is not a page now.
async fn page(pages: &Pages, holder: &Holder, path: &str) -> Result<Option<String>, Failure> {
    let broken = |_| Failure::new(StatusCode::INTERNAL_SERVER_ERROR, "A page was not made.");
    let mut request = Request::get(path).body(Body::empty()).map_err(broken)?;
    request.extensions_mut().insert(holder.clone());
    let answer: Response = match pages.0.clone().oneshot(request).await {
        Ok(answer) => answer,
        Err(never) => match never {},
    };
    if answer.status() != StatusCode::OK {
        return Ok(None);
    }
    let page = to_bytes(answer.into_body(), MOST_PAGE).await;
    Ok(page
        .ok()
        .and_then(|page| String::from_utf8(page.into()).ok()))
}
