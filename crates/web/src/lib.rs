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
mod said;

use std::fmt;
use std::io;
use std::net::SocketAddr;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Router, middleware};
use larderwright_app::home::Home;
use larderwright_app::{Options, Threads, Told};
use larderwright_store::Store;
use tokio::net::TcpListener;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{DefaultPredicate, NotForContentType, Predicate as _};

pub use desk::{Clock, Desk, DeskError, Week};
use drafts::Drafts;
use guard::Rate;
use pages::{
    boxes, calendar, changes, foods, house, household_file, larder, live, news, plans, recipes, review,
    session, sheets, shopping, sitting, slips, sources, ticks, turns, week,
};
use refusal::Refusal;
use routes::Route;
use said::Said;

/// What every handler has at hand.
pub(crate) struct Pages<S> {
    pub(crate) desk: Arc<Desk<S>>,
    pub(crate) drafts: Arc<Drafts>,
    pub(crate) said: Arc<Said>,
    started: Arc<str>,
    made: Arc<AtomicU64>,
}

impl<S> Clone for Pages<S> {
    fn clone(&self) -> Self {
        Self {
            desk: Arc::clone(&self.desk),
            drafts: Arc::clone(&self.drafts),
            said: Arc::clone(&self.said),
            started: Arc::clone(&self.started),
            made: Arc::clone(&self.made),
        }
    }
}

impl<S> Pages<S> {
    /// An identifier for a mark that came without one.
    pub(crate) fn fresh_id(&self) -> String {
        let number = self.made.fetch_add(1, Ordering::Relaxed);
        format!("server-{}-{number}", self.started)
    }
}

impl<S: Store> Pages<S> {
    /// After something was written down: drafts are of another house, other devices look again, and the next page says it.
    pub(crate) fn noted(&self, topic: &'static str, told: Told) -> u64 {
        self.drafts.forget();
        self.desk.tell(topic);
        self.said.keep(told)
    }
}

/// All pages over a desk. `started` tells this start of the program from all others; it becomes part of identifiers.
pub fn router<S: Store + 'static>(desk: Arc<Desk<S>>, started: &str) -> Router {
    let pages = Pages {
        desk,
        drafts: Arc::default(),
        said: Arc::default(),
        started: Arc::from(started),
        made: Arc::default(),
    };
    let small = DefaultPredicate::new().and(NotForContentType::new("font/woff2"));
    read_routes(Router::new())
        .merge(write_routes(Router::new()))
        .route(assets::PATTERN, get(assets::file))
        .fallback(missing)
        .layer(middleware::from_fn(guard::same_origin))
        .layer(middleware::from_fn_with_state(
            Arc::new(Rate::new()),
            guard::bounded,
        ))
        .layer(DefaultBodyLimit::max(guard::BODY_MAX))
        .layer(CompressionLayer::new().compress_when(small))
        .layer(middleware::from_fn(guard::headers))
        .with_state(pages)
}

fn read_routes<S: Store + 'static>(router: Router<Pages<S>>) -> Router<Pages<S>> {
    let any = String::new;
    router
        .route("/", get(|| async { Redirect::to(Route::Week.pattern()) }))
        .route(Route::Week.pattern(), get(week::week::<S>))
        .route(Route::WeekOf(any()).pattern(), get(week::week_of::<S>))
        .route(
            Route::Plans.pattern(),
            get(plans::plans::<S>).post(plans::choices::<S>),
        )
        .route(
            Route::Changes.pattern(),
            get(changes::changes::<S>).post(changes::accept::<S>),
        )
        .route(Route::Shopping.pattern(), get(shopping::shopping::<S>))
        .route(Route::ShoppingFile.pattern(), get(shopping::shopping_file::<S>))
        .route(Route::Sheet("").pattern(), get(sheets::sheet::<S>))
        .route(Route::Session.pattern(), get(session::session::<S>))
        .route(Route::SessionOf(any()).pattern(), get(session::session_of::<S>))
        .route(Route::Larder.pattern(), get(larder::larder::<S>))
        .route(Route::Tonight.pattern(), get(sitting::tonight::<S>))
        .route(Route::Sitting(any()).pattern(), get(sitting::sitting::<S>))
        .route(
            Route::SittingFile(any()).pattern(),
            get(sitting::sitting_file::<S>),
        )
        .route(Route::Recipes.pattern(), get(recipes::recipes::<S>))
        .route(Route::Recipe(any()).pattern(), get(recipes::recipe::<S>))
        .route(Route::Meal(any()).pattern(), get(recipes::meal::<S>))
        .route(Route::Foods.pattern(), get(foods::foods::<S>))
        .route(Route::Food(any()).pattern(), get(foods::food::<S>))
        .route(Route::Household.pattern(), get(house::household::<S>))
        .route(
            Route::HouseholdFile.pattern(),
            get(household_file::file::<S>).post(household_file::keep::<S>),
        )
        .route(Route::Review.pattern(), get(review::review::<S>))
        .route(
            Route::Turns(any()).pattern(),
            get(turns::turn::<S>).post(turns::accept::<S>),
        )
        .route(Route::Sources.pattern(), get(sources::sources::<S>))
        .route(Route::Calendar.pattern(), get(calendar::calendar::<S>))
        .route(Route::News.pattern(), get(news::news::<S>))
}

fn write_routes<S: Store + 'static>(router: Router<Pages<S>>) -> Router<Pages<S>> {
    let any = String::new;
    router
        .route(Route::Ticks.pattern(), post(ticks::ticks::<S>))
        .route(Route::Unpackings.pattern(), post(shopping::unpackings::<S>))
        .route(Route::Receipts.pattern(), post(shopping::receipts::<S>))
        .route(Route::Deeds.pattern(), post(larder::deeds::<S>))
        .route(Route::Looks.pattern(), post(larder::looks::<S>))
        .route(Route::Servings(any()).pattern(), post(sitting::servings::<S>))
        .route(Route::Closings.pattern(), post(review::closings::<S>))
        .route(Route::Undoings.pattern(), post(review::undoings::<S>))
        .route(Route::Beginnings(any()).pattern(), post(live::beginnings::<S>))
        .route(Route::Completions(any()).pattern(), post(live::completions::<S>))
        .route(Route::Extensions(any()).pattern(), post(live::extensions::<S>))
        .route(
            Route::Rests(any()).pattern(),
            get(slips::rest::<S>).post(live::rests::<S>),
        )
        .route(
            Route::Absences(any()).pattern(),
            get(slips::absence::<S>).post(slips::absences::<S>),
        )
        .route(
            Route::Stops(any()).pattern(),
            get(slips::stop::<S>).post(slips::stops::<S>),
        )
        .route(
            Route::Mishaps(any()).pattern(),
            get(slips::mishap::<S>).post(slips::mishaps::<S>),
        )
        .route(Route::Packings(any()).pattern(), post(boxes::packings::<S>))
        .route(Route::Endings(any()).pattern(), post(live::endings::<S>))
}

async fn missing() -> Response {
    let mut response = Refusal::missing("There is no such page.").into_response();
    *response.status_mut() = StatusCode::NOT_FOUND;
    response
}

/// What is opened, and for whom.
pub struct Opening<S> {
    /// The household's memory.
    pub home: Home<S>,
    /// Where to listen.
    pub listen: SocketAddr,
    /// What time it is.
    pub clock: Clock,
    /// How weeks are planned.
    pub search: (Options, Threads),
    /// What tells this start of the program from all others.
    pub started: String,
    /// Is told the address when pages can be asked for.
    pub ready: Box<dyn FnOnce(SocketAddr) + Send>,
}

impl<S> fmt::Debug for Opening<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Opening")
            .field("home", &self.home)
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

/// Serves a household's pages until the program is asked to stop.
///
/// # Errors
/// Why it could not.
pub async fn open<S: Store + 'static>(opening: Opening<S>) -> Result<(), OpenError> {
    let desk = Desk::open(opening.home, opening.clock, opening.search).await?;
    let address = opening.listen;
    let listener = TcpListener::bind(address)
        .await
        .map_err(|cause| OpenError::Listen { address, cause })?;
    let bound = listener.local_addr().map_err(OpenError::Serve)?;
    let router = router(Arc::new(desk), &opening.started);
    (opening.ready)(bound);
    let stop = async {
        // Without the signal the program is stopped the hard way, which loses nothing.
        let _ = tokio::signal::ctrl_c().await;
    };
    serve(listener, router, stop).await.map_err(OpenError::Serve)
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
