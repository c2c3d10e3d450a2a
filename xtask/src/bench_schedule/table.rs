//! The printed table, and what may not be: answers that contradict what is known or each other.

use super::Told;
use super::instances::Instance;

/// One instance with both answers.
type Row<'a> = (&'a Instance, Told, Option<Told>);

pub(super) fn print_row(instance: &Instance, ours: &Told, theirs: Option<&Told>) {
    let shown = |told: &Told| {
        let makespan = told
            .makespan
            .map_or("-".to_owned(), |makespan| makespan.to_string());
        format!(
            "{:<10} {makespan:>6} {:>6} {:>7}",
            told.status, told.lower, told.millis
        )
    };
    let best = instance.best.map_or("-".to_owned(), |best| best.to_string());
    println!(
        "{:<14} {best:>6} | {} | {}",
        instance.name,
        shown(ours),
        theirs.map_or(String::new(), shown)
    );
}

pub(super) fn print_sums(rows: &[Row<'_>], seconds: &str) {
    println!(
        "{} instances, {seconds} s of the processor (all threads, halved)",
        rows.len()
    );
    let own: Vec<(&Instance, &Told)> = rows.iter().map(|(instance, ours, _)| (*instance, ours)).collect();
    print_sum("ours", &own);
    let others = rows
        .iter()
        .filter_map(|(instance, _, theirs)| Some((*instance, theirs.as_ref()?)));
    let others: Vec<(&Instance, &Told)> = others.collect();
    if others.is_empty() {
        return;
    }
    print_sum("cpsat", &others);
    for (instance, ours, theirs) in rows {
        let Some(theirs) = theirs else { continue };
        let makespan = |told: &Told| told.makespan.unwrap_or(i64::MAX);
        let is_worse = makespan(ours) > makespan(theirs);
        let is_unproven = theirs.status == "proven" && ours.status != "proven";
        if is_worse || is_unproven {
            let what = if is_worse { "longer" } else { "not proven" };
            println!("loss {}: {what}", instance.name);
        }
    }
}

fn print_sum(name: &str, told: &[(&Instance, &Told)]) {
    let proven = told.iter().filter(|(_, told)| told.status == "proven").count();
    let none = told.iter().filter(|(_, told)| told.makespan.is_none()).count();
    let sum: i64 = told.iter().filter_map(|(_, told)| told.makespan).sum();
    let excess = told.iter().filter_map(|(instance, told)| {
        let (best, makespan) = (instance.best?, told.makespan?);
        Some((makespan - best) * 1_000_000 / best.max(1))
    });
    let excess: Vec<i64> = excess.collect();
    let count = i64::try_from(excess.len()).unwrap_or(1).max(1);
    let mean = excess.iter().sum::<i64>() / count;
    let gap = told.iter().filter_map(|(_, told)| {
        let makespan = told.makespan?;
        Some((makespan - told.lower) * 1_000_000 / makespan.max(1))
    });
    let gap: Vec<i64> = gap.collect();
    let gap = gap.iter().sum::<i64>() / i64::try_from(gap.len()).unwrap_or(1).max(1);
    let mut times: Vec<i64> = told.iter().map(|(_, told)| told.millis).collect();
    times.sort_unstable();
    let median = times.get(times.len() / 2).copied().unwrap_or(0);
    let quick = told
        .iter()
        .filter(|(_, told)| told.status == "proven" && told.millis <= 100)
        .count();
    println!(
        "{name:<6} proven {proven} (within 0.1 s {quick}), without a schedule {none}, sum of makespans {sum}, \
         mean excess over best known {}, mean gap {}, median time {median} ms",
        percent(mean),
        percent(gap)
    );
}

/// Millionths as percent with three decimals.
fn percent(millionths: i64) -> String {
    format!("{}.{:04} %", millionths / 10_000, (millionths % 10_000).abs())
}

/// Says which answers cannot be true.
pub(super) fn contradictions(rows: &[Row<'_>]) -> Result<(), String> {
    let mut wrong = Vec::new();
    for (instance, ours, theirs) in rows {
        let schedules = [
            instance.best,
            ours.makespan,
            theirs.as_ref().and_then(|told| told.makespan),
        ];
        if let Some(best) = schedules.into_iter().flatten().min()
            && ours.lower > best
        {
            wrong.push(format!(
                "{}: bound {} above the schedule of {best}",
                instance.name, ours.lower
            ));
        }
        let bound = theirs.as_ref().map_or(0, |told| told.lower);
        if ours.makespan.is_some_and(|makespan| makespan < bound) {
            wrong.push(format!(
                "{}: shorter than the yardstick's bound {bound}",
                instance.name
            ));
        }
    }
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(wrong.join("\n"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(makespan: i64, lower: i64) -> Told {
        Told {
            status: "best".to_owned(),
            makespan: Some(makespan),
            lower,
            millis: 1,
        }
    }

    #[test]
    fn a_bound_above_a_known_schedule_is_a_contradiction() {
        let instance = Instance {
            name: "x".to_owned(),
            file: "x.sm".into(),
            best: Some(50),
        };
        assert!(contradictions(&[(&instance, told(51, 50), None)]).is_ok());
        assert!(contradictions(&[(&instance, told(52, 51), None)]).is_err());
        assert!(contradictions(&[(&instance, told(50, 49), Some(told(48, 40)))]).is_err());
        assert!(contradictions(&[(&instance, told(48, 40), Some(told(50, 49)))]).is_err());
    }
}
