//! The end of a session: into boxes, with what the scale, the boxes or the thermometer say.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::Redirect;
use larderwright_app::Told;
use larderwright_app::home::Cooking;
use larderwright_model::{ActKind, BatchId, SessionId};
use larderwright_quantity::{Permille, thermometer};
use larderwright_store::Store;
use larderwright_views::page::boxing::PackOut;
use larderwright_views::page::live::LivePage;
use maud::{Markup, html};
use serde::Deserialize;

use crate::Pages;
use crate::desk::DeskError;
use crate::marks::SessionMark;
use crate::pages::larder::mass;
use crate::pages::live::{back, marked};
use crate::parts::{sect, tape};
use crate::refusal::Refusal;
use crate::routes::Route;

/// How full the boxes are of what was planned, per thousand, with the words of the buttons.
const FILLS: [(i64, &str); 4] = [
    (1000, "Boxes as planned"),
    (900, "A little short"),
    (750, "A quarter short"),
    (500, "Only half"),
];

/// What goes into boxes now, and what did.
pub(crate) fn pack_out(view: &LivePage) -> Markup {
    let (done, waiting): (Vec<&PackOut>, Vec<&PackOut>) = view.pack_out.iter().partition(|batch| batch.done);
    html! {
        @if !waiting.is_empty() {
            section.packs aria-labelledby="po" {
                (sect("po", "Into boxes now", "then straight into the cold"))
                @for batch in &waiting {
                    article.pack {
                        h3 { (batch.name) " " small { (batch.by) } }
                        ul {
                            @for lot in &batch.lots {
                                li { (tape(&lot.tape, &lot.dates)) div { b { (lot.words) } span { (lot.sittings) } } }
                            }
                        }
                        (filled(batch, &view.session))
                        details.why { summary { "Weighed or measured" } (measured(batch, &view.session)) }
                    }
                }
                p.note { "No printer? The words on the tape are the words to write. On the box, not on the lid." }
            }
        }
        @if !done.is_empty() {
            section.packs aria-labelledby="pd" {
                (sect("pd", "In the cold", "said otherwise, the boxes change"))
                @for batch in &done {
                    details.why { summary { (batch.name) } (filled(batch, &view.session)) (measured(batch, &view.session)) }
                }
            }
        }
    }
}

/// One tap: how full the boxes are.
fn filled(batch: &PackOut, session: &str) -> Markup {
    html! {
        form.row method="post" action=(Route::Packings(session.to_owned())) data-live {
            input type="hidden" name="batch" value=(batch.batch);
            @for (part, words) in FILLS {
                button class=(if part == 1000 && !batch.done { "btn main" } else { "btn quiet" }) type="submit" name="part" value=(part) aria-label=(format!("{words}: {}", batch.name)) { (words) }
            }
        }
    }
}

fn measured(batch: &PackOut, session: &str) -> Markup {
    html! {
        form.ask method="post" action=(Route::Packings(session.to_owned())) data-live {
            input type="hidden" name="batch" value=(batch.batch);
            label { "All of it weighs " input type="text" name="weight" size="8" placeholder="800 g, 1 lb 12 oz" autocomplete="off" aria-label=(format!("All of it weighs: {}", batch.name)); }
            label { "Its middle has " input type="text" name="warm" size="6" placeholder="21C, 70F" autocomplete="off" aria-label=(format!("Its middle has: {}", batch.name)); }
            button.btn type="submit" aria-label=(format!("Into the cold: {}", batch.name)) { "Into the cold" }
        }
    }
}

/// What a form of a batch sends.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Boxed {
    #[serde(default)]
    batch: String,
    part: Option<i64>,
    #[serde(default)]
    weight: String,
    #[serde(default)]
    warm: String,
}

/// A batch is in its boxes and in the cold.
pub(crate) async fn packings<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(form): Form<Boxed>,
) -> Result<Redirect, Refusal> {
    let household = pages.desk.household().await?.ok_or(DeskError::NoHousehold)?;
    let weighed = mass(&form.weight, &household)?;
    let warm = (!form.warm.trim().is_empty()).then(|| {
        thermometer(&form.warm).ok_or_else(|| {
            Refusal::form(
                format!("`{}` is no temperature.", form.warm),
                "Write what the thermometer says with its scale, as in 21C or 70F.",
            )
        })
    });
    let warm = warm.transpose()?;
    let filled = form
        .part
        .filter(|part| (100..=2000).contains(part) && *part != 1000);
    let cooking = Cooking {
        weighed,
        filled: filled.map(Permille::from_permille),
        minutes: None,
    };
    let session = SessionId::new(&id);
    let missing = || Refusal::missing(format!("There is no session `{id}` in this week."));
    let week = pages.desk.week_with(&session).await?.ok_or_else(missing)?;
    let now = pages.desk.now().await?;
    let course = pages
        .desk
        .course(&week, &session, now.moment.at)
        .await
        .ok_or_else(missing)?;
    let batch = BatchId::new(&form.batch);
    let boxing = course
        .run
        .acts
        .iter()
        .find(|act| act.kind == ActKind::PackOut && act.batches.contains(&batch));
    let boxing = boxing.ok_or_else(|| {
        Refusal::form(
            "This batch is not part of the session any more.",
            "Look at the session as it is now.",
        )
    })?;
    let home = pages.desk.home();
    let mut told = Told::default();
    if weighed.is_some() || filled.is_some() {
        told = told.and(home.cooked(&form.batch, cooking, &now).await?);
    }
    if warm.is_some() {
        told = told.and(home.cooled(&form.batch, vec![(now.minute(), warm)], &now).await?);
    }
    let done = SessionMark::Done {
        acts: vec![boxing.id.to_string()],
    };
    told = told.and(marked(&pages, (&week, &session), None, done).await?);
    Ok(back(&pages, &id, told))
}
