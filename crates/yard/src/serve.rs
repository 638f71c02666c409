//! The server: routes, limits, and what every answer carries.

use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::{HeaderValue, header};
use axum::middleware;
use axum::response::Response;
use axum::routing::{get, post};
use store::JobId;
use tokio::net::TcpListener;
use tokio::sync::Notify;

use crate::code::JoinCode;
use crate::desk::{Desk, DeskError};
use crate::{access, assets, forms, pages, reply, seen};

/// The biggest request but for a list, in bytes.
const MOST_FORM: usize = 128 * 1024;
/// The biggest list that is taken in, in bytes; as much as the reader reads, and room for the form around it.
const MOST_LIST: usize = list::limits::MAX_FILE_BYTES + MOST_FORM;

/// The biggest picture that is taken in, in bytes, and room for the form around it.
const MOST_PHOTO: usize = photo::MOST_BYTES + MOST_FORM;

/// What the handlers share.
#[derive(Clone)]
pub(crate) struct Yard {
    pub desk: Arc<Mutex<Desk>>,
    pub job: JobId,
    pub code: JoinCode,
    /// Where phones on the same network find the yard, such as `http://192.168.1.20:7411`.
    pub address: String,
}

impl Yard {
    /// Does work at the desk, where it may wait for the disk: the runtime's other tasks go to another thread, and the
    /// work stays on this one, which spares a count two changes of thread.
    pub fn at_desk<T>(
        &self,
        work: impl FnOnce(&mut Desk) -> Result<T, DeskError>,
    ) -> Result<T, DeskError> {
        tokio::task::block_in_place(|| {
            // A handler that panicked has written its event or has not; the desk reads the file anew either way.
            let mut desk = self.desk.lock().unwrap_or_else(PoisonError::into_inner);
            work(&mut desk)
        })
    }
}

/// A yard that is open: where it is found and how phones join.
#[derive(Clone, Debug)]
pub struct Open {
    /// Where it listens.
    pub at: SocketAddr,
    /// Where phones on the same network find it.
    pub address: String,
    /// The code that lets them join.
    pub code: JoinCode,
}

impl Open {
    /// The address that lets a phone join at once; what the QR code holds.
    pub fn join_address(&self) -> String {
        join_address(&self.address, &self.code)
    }

    /// The QR code of the join address, drawn with letters for a terminal with a dark ground.
    pub fn terminal_code(&self) -> String {
        use qrcode::render::unicode::Dense1x2;
        qrcode::QrCode::new(self.join_address()).map_or_else(
            |_| String::new(),
            |code| {
                code.render::<Dense1x2>()
                    .dark_color(Dense1x2::Light)
                    .light_color(Dense1x2::Dark)
                    .build()
            },
        )
    }
}

pub(crate) fn join_address(address: &str, code: &JoinCode) -> String {
    format!("{address}/join?code={}", code.letters())
}

/// Serves a job until `stop` ends; `opened` is told where, once phones can come.
pub async fn serve(
    mut desk: Desk,
    listen: SocketAddr,
    opened: impl FnOnce(&Open),
    stop: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    let listener = TcpListener::bind(listen).await?;
    let at = listener.local_addr()?;
    let code = desk.join_code().map_err(std::io::Error::other)?;
    let address = format!(
        "http://{}",
        SocketAddr::new(seen_from_outside(at.ip()), at.port())
    );
    let yard = Yard {
        job: desk.job_id(),
        desk: Arc::new(Mutex::new(desk)),
        code: code.clone(),
        address: address.clone(),
    };
    opened(&Open { at, address, code });
    let told = Arc::new(Notify::new());
    let heard = told.clone();
    let stop = async move {
        stop.await;
        told.notify_one();
    };
    let serving = axum::serve(listener, routes(yard)).with_graceful_shutdown(stop);
    // A phone that opened a connection and never asked would hold the yard open for good.
    let enough = async {
        heard.notified().await;
        tokio::time::sleep(LAST_ANSWERS).await;
    };
    tokio::select! {
        done = serving => done,
        () = enough => Ok(()),
    }
}

/// How long the answers that are under way may take when the yard is told to stop.
const LAST_ANSWERS: Duration = Duration::from_secs(3);

fn routes(yard: Yard) -> Router {
    let lists = Router::new()
        .route("/list", get(pages::list::show).post(forms::list::add))
        .layer(DefaultBodyLimit::max(MOST_LIST));
    let photos = Router::new()
        .route("/photo", post(forms::photo::add))
        .route("/count/{mark}/photo", post(forms::photo::add_for_count))
        .layer(DefaultBodyLimit::max(MOST_PHOTO));
    let inside = Router::new()
        .route("/", get(pages::glance::show))
        .route("/order", get(pages::order::show).post(forms::order::set))
        .route("/order/{mark}", get(pages::order::why))
        .route("/drawings", get(pages::drawings::show))
        .route("/drawings/{view}", get(pages::drawings::isometric))
        .route("/list/row", post(forms::list::overrule))
        .route("/list/drop", post(forms::list::set_aside))
        .route("/count", get(pages::count::marks))
        .route(
            "/count/{mark}",
            get(pages::count::one).post(forms::count::add),
        )
        .route("/count/{mark}/again", get(pages::again::show))
        .route("/condition/{mark}", post(forms::count::condition))
        .route("/note", post(forms::count::note))
        .route("/undo", post(forms::count::undo))
        .route("/shipment", post(forms::shipment::set))
        .route("/difference", get(pages::difference::show))
        .route("/papers", get(pages::papers::show))
        .route("/papers/osd.pdf", get(pages::papers::osd))
        .route("/papers/tally-sheet.pdf", get(pages::papers::tally_sheet))
        .route("/papers/drawings.pdf", get(pages::papers::drawings))
        .route("/tell", get(pages::tell::show))
        .route("/look-alikes", get(pages::tell::look_alikes))
        .route("/measured", post(forms::tell::keep))
        .route("/piles", get(pages::piles::show))
        .route("/pile", post(forms::pile::place))
        .route("/photos", get(pages::photos::show))
        .route("/photo/{digest}", get(pages::photos::one))
        .route("/photo/{digest}/small", get(pages::photos::small))
        .route("/count/{mark}/rings", get(pages::rings::show))
        .route("/phones", get(pages::phones::show))
        .merge(lists)
        .merge(photos)
        .route_layer(middleware::from_fn(seen::as_the_phone_says))
        .route_layer(middleware::from_fn_with_state(
            yard.clone(),
            access::only_joined,
        ));
    Router::new()
        .route("/join", get(pages::join::show).post(forms::join::join))
        .route("/leave", post(forms::join::leave))
        .route("/assets/{name}", get(assets::one))
        .merge(inside)
        .fallback(pages::no_such_page)
        .layer(DefaultBodyLimit::max(MOST_FORM))
        .layer(middleware::from_fn(access::same_site_only))
        .layer(middleware::map_response(reply::in_words))
        .layer(middleware::map_response(guard))
        .with_state(yard)
}

/// What every answer carries: nothing runs but our own files, and nothing is kept by a browser in between.
async fn guard(mut response: Response) -> Response {
    let headers = response.headers_mut();
    let set = [
        (
            header::CONTENT_SECURITY_POLICY,
            "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; \
             form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
        ),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        // Without a referrer a browser would call the origin of our own forms "null".
        (header::REFERRER_POLICY, "same-origin"),
    ];
    for (name, value) in set {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    response
}

/// The address that others see when we listen on every one of ours.
///
/// A UDP socket that is pointed at a documentation address (RFC 5737) sends nothing, but learns which of our
/// addresses it would send from.
fn seen_from_outside(listening: IpAddr) -> IpAddr {
    if !listening.is_unspecified() {
        return listening;
    }
    let learn = || {
        let socket = UdpSocket::bind(("0.0.0.0", 0)).ok()?;
        socket.connect(("192.0.2.1", 9)).ok()?;
        Some(socket.local_addr().ok()?.ip())
    };
    learn()
        .filter(|ip| !ip.is_unspecified())
        .unwrap_or(IpAddr::from([127, 0, 0, 1]))
}
