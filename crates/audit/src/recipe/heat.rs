//! Heat: oven time against temperature and mass, and pots against what is in them.

use larderwright_model::{Equipment, OvenRange, Step};
use larderwright_quantity::{Mass, Rounding, mul_div};

use super::batch::Batch;
use super::rules;
use crate::notes::Notes;

/// Watts that an oven's air gives to one tray: 0.15 m2 from both sides, 15 to 30 W/m2K, 80 to 130 K; drying at
/// the edge of the band is allowed.
const TRAY_WATTS: std::ops::RangeInclusive<i64> = 25..=700;
/// Joules to turn a gram of water into steam.
const LATENT_J_PER_G: i64 = 2257;
const TRAY_G: std::ops::RangeInclusive<i64> = 300..=1200;

pub(super) fn check(batch: &Batch<'_>, notes: &mut Notes) {
    for step in &batch.way.steps {
        if let Some(oven) = &step.oven {
            range(batch, step, oven, notes);
            slope(batch, step, oven, notes);
            if let Some(tray) = step.tray.filter(|tray| *tray <= batch.x) {
                on_tray(batch, (step, tray), notes);
            }
        }
        if step.uses.contains(&Equipment::Pot) {
            pot(batch, step, notes);
        }
    }
}

fn subject(batch: &Batch<'_>, step: &Step) -> String {
    format!("{}/{}", batch.subject(), step.id)
}

fn range(batch: &Batch<'_>, step: &Step, oven: &OvenRange, notes: &mut Notes) {
    let degrees = [oven.min, oven.best, oven.max].map(|it| it.c(Rounding::Nearest));
    let minutes = step.law.likely(batch.load(step)).mins(Rounding::Nearest);
    let usual = degrees.iter().all(|it| (120..=250).contains(it))
        && degrees[2] - degrees[0] <= 60
        && (8..=180).contains(&minutes);
    if !usual {
        notes
            .say(&rules::OVEN_RANGE, subject(batch, step), "an odd oven")
            .evidence = format!("{degrees:?} °C for {minutes} min");
    }
}

fn slope(batch: &Batch<'_>, step: &Step, oven: &OvenRange, notes: &mut Notes) {
    let above = oven.best.c(Rounding::Nearest) - 100;
    let told = -oven.per_degree.secs();
    if above <= 0 {
        return;
    }
    let follows = step.law.likely(batch.load(step)).secs() / above;
    if told * 2 < follows || told > follows * 2 {
        notes
            .say(
                &rules::OVEN_SLOPE,
                subject(batch, step),
                "the change of time per degree does not follow from the time",
            )
            .evidence = format!("{told} s told, {follows} s follow");
    }
}

fn on_tray(batch: &Batch<'_>, (step, tray): (&Step, Mass), notes: &mut Notes) {
    let loaded = Batch { x: tray, ..*batch };
    let kept = loaded.kept();
    let grams = kept.g(Rounding::Nearest);
    if !TRAY_G.contains(&grams) {
        notes
            .say(&rules::OVEN_TRAY, subject(batch, step), "an odd load for a tray")
            .evidence = format!("{grams} g");
    }
    let lost = kept.saturating_sub(loaded.output());
    let seconds = step.law.likely(tray).secs().max(1);
    let watts = mul_div(lost.mg(), LATENT_J_PER_G, seconds * 1000, Rounding::Nearest);
    if !TRAY_WATTS.contains(&watts) {
        notes
            .say(
                &rules::OVEN_POWER,
                subject(batch, step),
                "what the tray loses does not fit the time",
            )
            .evidence = format!("{watts} W, usual {} to {}", TRAY_WATTS.start(), TRAY_WATTS.end());
    }
}

fn pot(batch: &Batch<'_>, step: &Step, notes: &mut Notes) {
    let (pot, contents) = batch.pot(step);
    if pot < contents {
        notes
            .say(&rules::POT, subject(batch, step), "the pot runs over")
            .evidence = format!(
            "{} ml of pot, at least {} ml in it",
            pot.ml(Rounding::Down),
            contents.ml(Rounding::Up)
        );
    }
}
