//! Answers: pages, ways back after a form, and failures that say what to do.

use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use maud::{Markup, html};

use crate::desk::DeskError;
use crate::pages::layout;

/// What did not work, for the person who tried.
#[derive(Debug)]
pub(crate) struct Failure {
    status: StatusCode,
    says: String,
    /// Further lines, such as each thing wrong with an order.
    details: Vec<String>,
    /// What could be done instead, such as buttons.
    offers: Option<Markup>,
}

impl Failure {
    pub fn new(status: StatusCode, says: impl Into<String>) -> Self {
        Self {
            status,
            says: says.into(),
            details: Vec::new(),
            offers: None,
        }
    }

    /// The request asks for something that cannot be; nothing was written.
    pub fn refused(says: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, says)
    }

    pub fn with(mut self, details: impl IntoIterator<Item = String>) -> Self {
        self.details.extend(details);
        self
    }

    pub fn offering(mut self, offers: Markup) -> Self {
        self.offers = Some(offers);
        self
    }
}

impl From<DeskError> for Failure {
    fn from(error: DeskError) -> Self {
        use store::Fault;
        let status = match &error {
            DeskError::Store(e) => match e.fault {
                Fault::Refused(_) | Fault::IdTaken(_) | Fault::Setting(_) => {
                    StatusCode::UNPROCESSABLE_ENTITY
                }
                Fault::ForReading => StatusCode::FORBIDDEN,
                Fault::DocumentTooBig(_) => StatusCode::PAYLOAD_TOO_LARGE,
                Fault::Busy | Fault::DiskFull => StatusCode::SERVICE_UNAVAILABLE,
                _ => StatusCode::INTERNAL_SERVER_ERROR,
            },
            DeskError::Random(_) => StatusCode::INTERNAL_SERVER_ERROR,
        };
        let says = match error {
            DeskError::Store(e) if matches!(e.fault, Fault::IdTaken(_)) => {
                "This form was already sent. Open its page again and fill it in anew.".into()
            }
            // Where the file lies is nothing for a phone to know.
            DeskError::Store(e) => format!("It was not written: {}.", e.fault),
            DeskError::Random(_) => format!("It was not written: {error}."),
        };
        Self::new(status, says)
    }
}

impl IntoResponse for Failure {
    fn into_response(self) -> Response {
        let page = layout::bare(
            "That did not work",
            html! {
                h1 { "That did not work" }
                div.note.short role="alert" {
                    p { (self.says) }
                    @for line in &self.details { p { (line) } }
                }
                @if let Some(offers) = &self.offers { (offers) }
                p { "Nothing was changed. Go back, put it right and try again, or " a href="/" { "start from the glance" } "." }
            },
        );
        (self.status, page_reply(page)).into_response()
    }
}

/// Puts what the server itself refuses (a form that is not whole, a body that is too big, a method that a page does
/// not take) on a page in words; it comes as bare text.
pub(crate) async fn in_words(response: Response) -> Response {
    let status = response.status();
    let is_page = |kind: &HeaderValue| kind.as_bytes().starts_with(b"text/html");
    let kind = response.headers().get(header::CONTENT_TYPE);
    if !status.is_client_error() || kind.is_some_and(is_page) {
        return response;
    }
    let says = match status {
        StatusCode::NOT_FOUND => "There is no such page.",
        StatusCode::METHOD_NOT_ALLOWED => "This page takes no such request.",
        StatusCode::PAYLOAD_TOO_LARGE => "That is more than a form of these pages can hold.",
        _ => "The form was not whole, or a field held what it cannot hold. Open the page again.",
    };
    let said = axum::body::to_bytes(response.into_body(), 2000).await;
    let said = said.map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
    let details = said.into_iter().filter(|text| !text.is_empty());
    Failure::new(status, says).with(details).into_response()
}

/// What a handler gives back.
pub(crate) type Reply = Result<Response, Failure>;

/// A page as an answer.
pub(crate) fn page_reply(page: Markup) -> Response {
    Html(page.into_string()).into_response()
}

/// Back to a page after a form was taken in.
pub(crate) fn see(path: &str) -> Response {
    Redirect::to(path).into_response()
}
