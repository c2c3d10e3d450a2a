//! The oven: one temperature at a time, as few as the dishes allow.

use larderwright_model::{Oven, OvenRange};
use larderwright_quantity::{Rounding, System, Temperature, mul_div};

/// Chooses a temperature for each range: greedy stabbing of intervals, which needs the fewest
/// temperatures. Within a group the dishes' best temperatures are averaged and rounded to the dial.
pub(super) fn temperatures(ranges: &[OvenRange], oven: &Oven, system: System) -> Vec<Temperature> {
    let clipped: Vec<(i64, i64)> = ranges
        .iter()
        .map(|range| (range.min.max(oven.min).deci_c(), range.max.min(oven.max).deci_c()))
        .collect();
    let mut order: Vec<usize> = (0..ranges.len()).collect();
    order.sort_by_key(|ix| (clipped[*ix].1, clipped[*ix].0));
    let mut chosen = vec![Temperature::from_c(0); ranges.len()];
    let mut open: Vec<usize> = order;
    while let Some(&first) = open.first() {
        let stab = clipped[first].1;
        let (group, rest): (Vec<usize>, Vec<usize>) = open.iter().partition(|ix| clipped[**ix].0 <= stab);
        let temperature = agree(ranges, &clipped, &group, system);
        for &ix in &group {
            chosen[ix] = temperature;
        }
        open = rest;
    }
    chosen
}

fn agree(ranges: &[OvenRange], clipped: &[(i64, i64)], group: &[usize], system: System) -> Temperature {
    let low = group.iter().map(|ix| clipped[*ix].0).max().unwrap_or(0);
    let high = group.iter().map(|ix| clipped[*ix].1).min().unwrap_or(low);
    let count = i64::try_from(group.len())
        .expect("a session holds few dishes")
        .max(1);
    let sum: i64 = group.iter().map(|ix| ranges[*ix].best.deci_c()).sum();
    let mean = mul_div(sum, 1, count, Rounding::Nearest).clamp(low, high.max(low));
    on_the_dial(mean, low, high, system)
}

/// The nearest dial mark inside the range: steps of 25 °F, or of 10 °C; the bare value when none is inside.
fn on_the_dial(wanted: i64, low: i64, high: i64, system: System) -> Temperature {
    let marks: Vec<Temperature> = match system {
        System::UsCustomary => (4..=22).map(|step| Temperature::from_f(step * 25)).collect(),
        System::Metric => (5..=30).map(|step| Temperature::from_c(step * 10)).collect(),
    };
    let inside = marks
        .into_iter()
        .filter(|mark| (low..=high).contains(&mark.deci_c()));
    inside
        .min_by_key(|mark| (mark.deci_c() - wanted).abs())
        .unwrap_or(Temperature::from_deci_c(wanted))
}

#[cfg(test)]
mod tests {
    use super::*;
    use larderwright_quantity::Seconds;

    fn range(min: i64, best: i64, max: i64) -> OvenRange {
        OvenRange {
            best: Temperature::from_c(best),
            min: Temperature::from_c(min),
            max: Temperature::from_c(max),
            per_degree: Seconds::from_secs(-10),
        }
    }

    fn oven() -> Oven {
        Oven {
            racks: 2,
            min: Temperature::from_c(50),
            max: Temperature::from_c(250),
            fan: false,
            preheat_min: 12,
        }
    }

    #[test]
    fn ranges_that_meet_share_one_temperature_inside_all_of_them() {
        let ranges = [range(190, 210, 230), range(180, 200, 220), range(200, 220, 230)];
        let chosen = temperatures(&ranges, &oven(), System::Metric);
        assert!(chosen.iter().all(|temperature| *temperature == chosen[0]));
        assert!(
            ranges
                .iter()
                .all(|range| range.min <= chosen[0] && chosen[0] <= range.max)
        );
    }

    #[test]
    fn ranges_that_do_not_meet_get_a_temperature_each() {
        let chosen = temperatures(
            &[range(150, 160, 170), range(200, 220, 230)],
            &oven(),
            System::Metric,
        );
        assert_eq!(chosen, vec![Temperature::from_c(160), Temperature::from_c(220)]);
    }

    #[test]
    fn an_american_dial_is_set_in_steps_of_twenty_five() {
        let chosen = temperatures(&[range(200, 220, 230)], &oven(), System::UsCustomary);
        assert_eq!(chosen[0].f(Rounding::Nearest), 425);
    }
}
