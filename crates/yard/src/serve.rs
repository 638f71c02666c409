//! The server: routes, limits, and what every answer carries.

use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use axum::extract::DefaultBodyLimit;
use axum::http::{HeaderValue, header};
use axum::middleware;
use axum::response::Response;
use axum::routing::{get, post};
use axum::{Extension, Router};
use store::JobId;
use tally::Standing;
use tokio::net::TcpListener;
use tokio::sync::{Semaphore, watch};

use crate::access::Peer;
use crate::code::JoinCode;
use crate::desk::{Desk, DeskError};
use crate::door::Door;
use crate::laying::LayingKept;
use crate::live::{self, Live};
use crate::outlook::{Outlook, OutlookKept};
use crate::reply::Failure;
use crate::take_along;
use crate::tls::{self, SafeAddress};
use crate::{access, assets, clock, compress, forms, pages, reply, seen};

/// The biggest request but for a list, in bytes.
const MOST_FORM: usize = 128 * 1024;
/// The biggest list that is taken in, in bytes: as much as the reader reads, or a dozen photographs of its pages as phones
/// take them, and room for the form around it.
pub(crate) const MOST_LIST: usize = 2 * photo::MOST_BYTES + MOST_FORM;
const _: () = assert!(2 * photo::MOST_BYTES >= list::limits::MAX_FILE_BYTES);

/// The biggest picture that is taken in, in bytes, and room for the form around it.
const MOST_PHOTO: usize = photo::MOST_BYTES + MOST_FORM;

/// What the handlers share.
#[derive(Clone)]
pub(crate) struct Yard {
    pub desk: Arc<Mutex<Desk>>,
    pub job: JobId,
    pub live: Live,
    /// Whether the job can only be read.
    pub for_reading: bool,
    /// Turns at making a bundle, which takes much of the disk.
    pub bundles: Arc<Semaphore>,
    /// Turns at working on pictures.
    pictures: Arc<Semaphore>,
    door: Arc<Mutex<Door>>,
    /// Where everything lies.
    pub laying: LayingKept,
    /// What follows for the build from how things stand.
    outlook: OutlookKept,
    /// Where phones on the same network find the yard, such as `http://192.168.1.20:7411`.
    pub address: String,
    /// Where they find it without a warning once they trust this computer, or why they do not.
    pub safe: Arc<Result<SafeAddress, String>>,
}

impl Yard {
    /// What is remembered of who came.
    pub fn door(&self) -> MutexGuard<'_, Door> {
        self.door.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What follows for the build from how things stand today.
    pub fn outlook(&self, standing: &Arc<Standing>) -> Arc<Outlook> {
        let (today, _) = clock::at_site(&standing.state.affairs, store::now());
        tokio::task::block_in_place(|| self.outlook.of(standing, today))
    }

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

/// Where a yard is to listen, and by what phones are to trust it.
#[derive(Clone, Debug)]
pub struct Places {
    /// The plain address.
    pub listen: SocketAddr,
    /// The safe address; the port after the plain one's, if none is said.
    pub safe_listen: Option<SocketAddr>,
    /// The folder that keeps what phones trust this computer by, if there is one.
    pub keeps: Option<PathBuf>,
}

impl Places {
    /// Where the safe address is to be, when the plain one is open.
    fn safe(&self, plain: SocketAddr) -> Result<(SocketAddr, &PathBuf), String> {
        let keeps = (self.keeps.as_ref())
            .ok_or("neither XDG_DATA_HOME nor HOME says where to keep its certificate")?;
        if let Some(asked) = self.safe_listen {
            return Ok((asked, keeps));
        }
        // A port that the system chose has no next one that is ours.
        let port = match self.listen.port() {
            0 => 0,
            _ => (plain.port().checked_add(1))
                .ok_or("there is no port after 65535; say one by --safe-listen")?,
        };
        Ok((SocketAddr::new(plain.ip(), port), keeps))
    }
}

impl Yard {
    /// Works on the pixels of a picture, away from all else, and on no more than two at once: each may take a quarter of
    /// a gigabyte.
    pub async fn with_picture<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Failure> {
        let broken = || Failure::refused("The picture could not be looked at. Send it again.");
        let _turn = self.pictures.acquire().await.map_err(|_| broken())?;
        tokio::task::spawn_blocking(work)
            .await
            .map_err(|_| broken())
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
    /// Whether the job can only be read.
    pub for_reading: bool,
    /// The safe address, or in words why there is none.
    pub safe: Result<SafeAddress, String>,
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
    places: &Places,
    opened: impl FnOnce(&Open),
    stop: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    let listener = TcpListener::bind(places.listen).await?;
    let at = listener.local_addr()?;
    let code = desk.join_code().map_err(std::io::Error::other)?;
    let seen = seen_from_outside(at.ip());
    let address = format!("http://{}", SocketAddr::new(seen, at.port()));
    let (safe, safe_listener) = match places.safe(at) {
        Ok((listen, keeps)) => match tls::open(listen, seen, keeps).await {
            Ok((safe, listener)) => (Ok(safe), Some(listener)),
            Err(trouble) => (Err(trouble), None),
        },
        Err(trouble) => (Err(trouble), None),
    };
    let (tell, told) = watch::channel(false);
    let yard = Yard {
        job: desk.job_id(),
        for_reading: desk.is_for_reading(),
        bundles: Arc::new(Semaphore::new(1)),
        live: Live::new(desk.listen(), told.clone()),
        desk: Arc::new(Mutex::new(desk)),
        pictures: Arc::new(Semaphore::new(2)),
        door: Arc::default(),
        laying: LayingKept::default(),
        outlook: OutlookKept::default(),
        address: address.clone(),
        safe: Arc::new(safe.clone()),
    };
    opened(&Open {
        for_reading: yard.for_reading,
        at,
        address,
        code,
        safe,
    });
    let until_told = |mut told: watch::Receiver<bool>| async move {
        // It can only be told, or gone with everything else.
        drop(told.wait_for(|told| *told).await);
    };
    let service = routes(yard).into_make_service_with_connect_info::<Peer>();
    let plain = axum::serve(listener, service.clone())
        .with_graceful_shutdown(until_told(told.clone()))
        .into_future();
    let safe = async {
        match safe_listener {
            Some(listener) => {
                axum::serve(listener, service)
                    .with_graceful_shutdown(until_told(told))
                    .await
            }
            None => Ok(()),
        }
    };
    // A phone that opened a connection and never asked would hold the yard open for good.
    let enough = async {
        stop.await;
        tell.send_replace(true);
        tokio::time::sleep(LAST_ANSWERS).await;
    };
    tokio::select! {
        done = async { tokio::try_join!(plain, safe) } => done.map(drop),
        () = enough => Ok(()),
    }
}

/// How long the answers that are under way may take when the yard is told to stop.
const LAST_ANSWERS: Duration = Duration::from_secs(3);

fn routes(yard: Yard) -> Router {
    let lists = Router::new()
        .route("/list", get(pages::list::show).post(forms::list::add))
        .route("/list/codes", post(forms::list_codes::take))
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
        .route("/list/sender", post(forms::list::sent_by))
        .route("/list/undo", post(forms::list::take_back))
        .route("/list/codes.csv", get(pages::list_codes::file))
        .route("/list/{digest}/strip/{row}", get(pages::list_strip::show))
        .route("/list/drop", post(forms::list::set_aside))
        .route("/list/sent-anew", post(forms::list::sent_anew))
        .route("/list/again", post(forms::list::take_up))
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
        .route("/tailgate", get(pages::tailgate::show))
        .route("/freight", post(forms::freight::set))
        .route("/delivery", post(forms::delivery::keep))
        .route("/dates", get(pages::dates::show))
        .route("/dates.ics", get(pages::dates::calendar))
        .route("/done", post(forms::terms::done))
        .route("/agreed", post(forms::terms::agreed))
        .route("/zone", post(forms::terms::zone))
        .route("/day-off", post(forms::terms::day_off))
        .route("/ground", get(pages::ground::show).post(forms::ground::set))
        .route("/laydown", get(pages::laydown::show))
        .route("/laydown/put", post(forms::ground::put))
        .route("/ready", get(pages::ready::show))
        .route("/lit", get(pages::lit::drawing))
        .route("/crew-day", post(forms::plans::crew_day))
        .route("/expected", post(forms::plans::expected))
        .route("/ways", get(pages::shortages::show))
        .route("/way", post(forms::plans::way))
        .route("/stages", get(pages::stages::show))
        .route("/worked", post(forms::plans::worked))
        .route("/tools", get(pages::tools::show))
        .route("/tool", post(forms::plans::tool))
        .route("/difference", get(pages::difference::show))
        .route("/points", get(pages::points::show))
        .route("/point", get(pages::points::one))
        .route("/point/take", post(forms::points::take))
        .route("/point/answer", post(forms::points::answer))
        .route("/point/close", post(forms::points::close))
        .route("/close", post(forms::points::close_job))
        .route(
            "/letters",
            get(pages::letters::show).post(forms::letters::set),
        )
        .route("/prices", get(pages::prices::show))
        .route("/price", post(forms::prices::set))
        .route(
            "/stakes",
            get(pages::stakes::show).post(forms::stakes::keep),
        )
        .route("/lifting", get(pages::lifting::show))
        .route("/unloading", get(pages::unloading::show))
        .route("/papers", get(pages::paper_list::show))
        .route("/papers/{file}", get(pages::papers::letter))
        .route("/papers/received.xml", get(pages::received::show))
        .route("/papers/received.edi", get(pages::received::show))
        .route("/papers/received.csv", get(pages::received::show))
        .route("/papers/received.xlsx", get(pages::received::show))
        .route("/papers/received.json", get(pages::received::show))
        .route("/papers/osd.pdf", get(pages::papers::osd))
        .route("/papers/tally-sheet.pdf", get(pages::papers::tally_sheet))
        .route("/papers/drawings.pdf", get(pages::papers::drawings))
        .route("/papers/build-day.pdf", get(pages::papers::build_day))
        .route("/papers/tell-apart.pdf", get(pages::papers::tell_apart))
        .route("/papers/bundle.zip", get(pages::bundle::zip))
        .route("/papers/labels.pdf", get(pages::labels::pdf))
        .route("/piles/labels", get(pages::labels::show))
        .route("/tell", get(pages::tell::show))
        .route("/look-alikes", get(pages::tell::look_alikes))
        .route("/measured", post(forms::tell::keep))
        .route("/piles", get(pages::piles::show))
        .route("/pile", post(forms::pile::place))
        .route("/photos", get(pages::photos::show))
        .route("/photo/{digest}", get(pages::photos::one))
        .route("/photo/{digest}/small", get(pages::photos::small))
        .route("/photo/{digest}/large", get(pages::photos::large))
        .route("/count/{mark}/rings", get(pages::rings::show))
        .route("/phones", get(pages::phones::show))
        .route("/phones/name", post(forms::phones::name))
        .route(
            "/phones/shut-out",
            get(pages::phones::ask_out).post(forms::phones::shut_out),
        )
        .route("/phones/let-in", post(forms::phones::let_in))
        .route("/phones/new-code", post(forms::phones::new_code))
        .route("/leave", post(forms::join::leave))
        .merge(lists)
        .merge(photos);
    let pages = take_along::Pages(inside.clone().with_state(yard.clone()));
    let inside = inside
        .route("/live", get(live::listen))
        .route("/take-along", get(take_along::all).layer(Extension(pages)))
        .route_layer(middleware::from_fn(seen::as_the_phone_says))
        .route_layer(middleware::from_fn_with_state(
            yard.clone(),
            access::only_joined,
        ));
    Router::new()
        .route("/join", get(pages::join::show).post(forms::join::join))
        .route("/trust", get(pages::trust::show))
        .route("/trust/tallyard.crt", get(pages::trust::certificate))
        .route("/worker.js", get(assets::worker))
        .route("/assets/{version}/{name}", get(assets::one))
        .merge(inside)
        .fallback(pages::no_such_page)
        .layer(DefaultBodyLimit::max(MOST_FORM))
        .layer(middleware::from_fn(access::same_site_only))
        .layer(middleware::map_response(reply::in_words))
        .layer(middleware::map_response(guard))
        .layer(middleware::from_fn(compress::text))
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
