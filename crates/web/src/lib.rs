//! The pages of Larderwright, served to the cook's phone, tablet or laptop.
//!
//! Every page works without script; script makes it live. Handlers take the week from the [`Desk`], make a view of
//! ready text and lay it out; they decide nothing. What time it is, the caller says.

mod assets;
pub mod desk;
pub mod drafts;
mod guard;
mod layout;
pub mod marks;
mod pages;
mod parts;
pub mod progress;
mod refusal;
pub mod routes;

use std::fmt;
use std::io;
use std::net::SocketAddr;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Router, middleware};
use tokio::net::TcpListener;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{DefaultPredicate, NotForContentType, Predicate as _};

pub use desk::{Clock, Desk, DeskError, Week};
use drafts::Drafts;
use guard::Rate;
use pages::{
    calendar, changes, foods, house, larder, live, news, recipes, session, sheets, shopping, sitting, slips,
    sources, ticks, week,
};
use refusal::Refusal;
use routes::Route;

/// What every handler has at hand.
#[derive(Clone)]
pub(crate) struct Pages {
    pub(crate) desk: Arc<Desk>,
    pub(crate) drafts: Arc<Drafts>,
    pub(crate) rate: Arc<Rate>,
    started: Arc<str>,
    made: Arc<AtomicU64>,
}

impl Pages {
    /// An identifier for a mark that came without one.
    pub(crate) fn fresh_id(&self) -> String {
        let number = self.made.fetch_add(1, Ordering::Relaxed);
        format!("server-{}-{number}", self.started)
    }
}

/// All pages over a desk. `started` tells this start of the program from all others; it becomes part of identifiers.
pub fn router(desk: Arc<Desk>, started: &str) -> Router {
    let pages = Pages {
        desk,
        drafts: Arc::default(),
        rate: Arc::new(Rate::new()),
        started: Arc::from(started),
        made: Arc::default(),
    };
    let small = DefaultPredicate::new().and(NotForContentType::new("font/woff2"));
    read_routes(Router::new())
        .merge(write_routes(Router::new()))
        .route(assets::PATTERN, get(assets::file))
        .fallback(missing)
        .layer(middleware::from_fn(guard::same_origin))
        .layer(middleware::from_fn_with_state(pages.clone(), guard::bounded))
        .layer(DefaultBodyLimit::max(guard::BODY_MAX))
        .layer(CompressionLayer::new().compress_when(small))
        .layer(middleware::from_fn(guard::headers))
        .with_state(pages)
}

fn read_routes(router: Router<Pages>) -> Router<Pages> {
    let any = String::new;
    router
        .route("/", get(|| async { Redirect::to(Route::Week.pattern()) }))
        .route(Route::Week.pattern(), get(week::week))
        .route(
            Route::Changes.pattern(),
            get(changes::changes).post(changes::accept),
        )
        .route(Route::Shopping.pattern(), get(shopping::shopping))
        .route(Route::ShoppingFile.pattern(), get(shopping::shopping_file))
        .route(Route::Sheet("").pattern(), get(sheets::sheet))
        .route(Route::Session.pattern(), get(session::session))
        .route(Route::SessionOf(any()).pattern(), get(session::session_of))
        .route(Route::Larder.pattern(), get(larder::larder))
        .route(Route::Tonight.pattern(), get(sitting::tonight))
        .route(Route::Sitting(any()).pattern(), get(sitting::sitting))
        .route(Route::SittingFile(any()).pattern(), get(sitting::sitting_file))
        .route(Route::Recipes.pattern(), get(recipes::recipes))
        .route(Route::Recipe(any()).pattern(), get(recipes::recipe))
        .route(Route::Meal(any()).pattern(), get(recipes::meal))
        .route(Route::Foods.pattern(), get(foods::foods))
        .route(Route::Food(any()).pattern(), get(foods::food))
        .route(Route::Household.pattern(), get(house::household))
        .route(Route::Review.pattern(), get(sources::review))
        .route(Route::Sources.pattern(), get(sources::sources))
        .route(Route::Calendar.pattern(), get(calendar::calendar))
        .route(Route::News.pattern(), get(news::news))
}

fn write_routes(router: Router<Pages>) -> Router<Pages> {
    let any = String::new;
    router
        .route(Route::Ticks.pattern(), post(ticks::ticks))
        .route(Route::Beginnings(any()).pattern(), post(live::beginnings))
        .route(Route::Completions(any()).pattern(), post(live::completions))
        .route(Route::Extensions(any()).pattern(), post(live::extensions))
        .route(Route::Rests(any()).pattern(), get(slips::rest).post(live::rests))
        .route(
            Route::Absences(any()).pattern(),
            get(slips::absence).post(slips::absences),
        )
        .route(Route::Stops(any()).pattern(), get(slips::stop).post(slips::stops))
        .route(
            Route::Mishaps(any()).pattern(),
            get(slips::mishap).post(slips::mishaps),
        )
        .route(Route::Endings(any()).pattern(), post(live::endings))
}

async fn missing() -> Response {
    let mut response = Refusal::missing("There is no such page.").into_response();
    *response.status_mut() = StatusCode::NOT_FOUND;
    response
}

/// What is opened, and for whom.
pub struct Opening {
    /// The folder of the week.
    pub folder: PathBuf,
    /// Where to listen.
    pub listen: SocketAddr,
    /// What time it is.
    pub clock: Clock,
    /// What tells this start of the program from all others.
    pub started: String,
    /// Is told the address when pages can be asked for.
    pub ready: Box<dyn FnOnce(SocketAddr) + Send>,
}

impl fmt::Debug for Opening {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Opening")
            .field("folder", &self.folder)
            .field("listen", &self.listen)
            .finish_non_exhaustive()
    }
}

/// Why pages could not be served.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// The desk cannot be opened.
    #[error(transparent)]
    Desk(#[from] DeskError),
    /// The address cannot be listened at.
    #[error("nobody can be listened to at `{address}`")]
    Listen {
        /// Which address.
        address: SocketAddr,
        /// Why.
        #[source]
        cause: io::Error,
    },
    /// The machine failed.
    #[error("the pages cannot be served")]
    Serve(#[source] io::Error),
}

/// Opens a folder and serves its pages until the program is asked to stop.
///
/// # Errors
/// Why it could not.
pub fn open(opening: Opening) -> Result<(), OpenError> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .map_err(OpenError::Serve)?;
    runtime.block_on(async {
        let desk = Arc::new(Desk::open(&opening.folder, opening.clock)?);
        let address = opening.listen;
        let listener = TcpListener::bind(address)
            .await
            .map_err(|cause| OpenError::Listen { address, cause })?;
        let bound = listener.local_addr().map_err(OpenError::Serve)?;
        let router = router(desk, &opening.started);
        (opening.ready)(bound);
        let stop = async {
            // Without the signal the program is stopped the hard way, which loses nothing.
            let _ = tokio::signal::ctrl_c().await;
        };
        serve(listener, router, stop).await.map_err(OpenError::Serve)
    })
}

/// Serves the pages until `stop` is ready; open pages then have two seconds to end.
///
/// # Errors
/// When the socket fails.
pub async fn serve(
    listener: TcpListener,
    router: Router,
    stop: impl Future<Output = ()> + Send + 'static,
) -> io::Result<()> {
    let (ended, end) = tokio::sync::oneshot::channel::<()>();
    let stopping = async move {
        stop.await;
        // The receiver goes only with this function.
        let _ = ended.send(());
    };
    let serving = axum::serve(listener, router).with_graceful_shutdown(stopping);
    let patience = async move {
        let _ = end.await;
        tokio::time::sleep(Duration::from_secs(2)).await;
    };
    tokio::select! {
        served = serving => served,
        () = patience => Ok(()),
    }
}
