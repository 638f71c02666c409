//! What one counts the others see: each page listens to a stream that says how far the log has come.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::sse::{Event, Sse};
use axum::response::{IntoResponse, Response};
use futures_util::stream;
use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};

use crate::reply::{Failure, Reply};
use crate::serve::Yard;

/// The most streams at once: 20 phones, each with a page more that it has not closed yet.
const MOST: usize = 40;
/// A stream speaks this often, so that a phone notices when it is out of reach. A phone that sees nothing for 25 s
/// takes the stream for dead (`live.js`).
const STILL_HERE: Duration = Duration::from_secs(10);

/// What a stream needs of the yard.
#[derive(Clone)]
pub(crate) struct Live {
    upto: watch::Receiver<u64>,
    closing: watch::Receiver<bool>,
    places: Arc<Semaphore>,
}

impl Live {
    /// `upto` is the highest number in the log; `closing` turns true when the yard is told to stop.
    pub fn new(upto: watch::Receiver<u64>, closing: watch::Receiver<bool>) -> Self {
        Self {
            upto,
            closing,
            places: Arc::new(Semaphore::new(MOST)),
        }
    }
}

/// The stream of one page.
struct Listener {
    live: Live,
    begun: bool,
    _place: OwnedSemaphorePermit,
}

pub(crate) async fn listen(State(yard): State<Yard>) -> Reply {
    let live = yard.live;
    // A page that gets no place asks now and then instead.
    let place = live.places.clone().try_acquire_owned().map_err(|_| {
        Failure::new(
            StatusCode::SERVICE_UNAVAILABLE,
            "Too many pages are open at once. This one looks for news every ten seconds.",
        )
    })?;
    let listener = Listener {
        live,
        begun: false,
        _place: place,
    };
    Ok(spoken(listener))
}

fn spoken(listener: Listener) -> Response {
    let events = stream::unfold(listener, |mut listener| async move {
        let upto = listener.next().await?;
        let event = Event::default().event("upto").data(upto.to_string());
        Some((Ok::<_, Infallible>(event), listener))
    });
    Sse::new(events).into_response()
}

impl Listener {
    /// How far the log has come: at once the first time, then at each change, and when nothing changes now and then.
    /// Nothing more when the yard closes.
    async fn next(&mut self) -> Option<u64> {
        if self.begun {
            tokio::select! {
                changed = self.live.upto.changed() => changed.ok()?,
                _ = self.live.closing.wait_for(|closing| *closing) => return None,
                () = tokio::time::sleep(STILL_HERE) => {}
            }
        }
        self.begun = true;
        Some(*self.live.upto.borrow_and_update())
    }
}
