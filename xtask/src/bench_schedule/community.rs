//! Made-up community kitchens of about three hundred tasks, fixed by their seeds, as project files.
//!
//! Everything here is invented: six cooks (three of them skilled), sixteen burners, four ovens. A dish is cut,
//! cooked in one of five ways, cooled on a shelf and portioned. Dishes of one oven whose ranges of temperature
//! do not meet exclude each other, with a time to heat up or to cool down.

use std::fmt::Write as _;

/// The seeds of the committed instances. They were fixed before the solver was measured on any.
pub const SEEDS: [u64; 6] = [11, 12, 13, 14, 15, 16];

const TASKS: usize = 300;
const OVENS: usize = 4;
const RESOURCES: [(&str, i64); 8] = [
    ("hands", 6),
    ("skilled", 3),
    ("burner", 16),
    ("large-pot", 8),
    ("pan", 10),
    ("board", 6),
    ("shelf", 14),
    ("rack", 12),
];

/// splitmix64, after Steele, Lea and Flood (2014).
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number from `least` to `most`, both included.
    fn whole(&mut self, least: i64, most: i64) -> i64 {
        let width = u64::try_from(most - least + 1).expect("the range is not empty");
        least + i64::try_from(self.next() % width).expect("smaller than the width")
    }

    fn chance(&mut self, percent: i64) -> bool {
        self.whole(1, 100) <= percent
    }
}

/// A dish in an oven: its task, which oven, and the range of temperature.
#[derive(Clone, Copy)]
struct Roast {
    task: usize,
    oven: usize,
    least: i64,
    most: i64,
}

struct Kitchen {
    draw: Draw,
    tasks: Vec<String>,
    lags: Vec<String>,
    offsets: Vec<String>,
    holds: Vec<String>,
    roasts: Vec<Roast>,
    /// Cut things that more than one dish takes.
    shared: Vec<usize>,
}

/// The project of a seed, as JSON.
pub fn project(seed: u64) -> String {
    let mut kitchen = Kitchen {
        draw: Draw(seed),
        tasks: Vec::new(),
        lags: Vec::new(),
        offsets: Vec::new(),
        holds: Vec::new(),
        roasts: Vec::new(),
        shared: Vec::new(),
    };
    while kitchen.tasks.len() < TASKS {
        match kitchen.draw.whole(0, 5) {
            0 | 1 => kitchen.stew(),
            2 | 3 => kitchen.roast(),
            4 => kitchen.boil(),
            _ => kitchen.salad(),
        }
    }
    kitchen.json(seed)
}

impl Kitchen {
    fn task(&mut self, modes: &[(i64, &[(&str, i64)])]) -> usize {
        let mode = |(minutes, uses): &(i64, &[(&str, i64)])| {
            let uses: Vec<String> = uses
                .iter()
                .map(|(name, amount)| format!("\"{name}\": {amount}"))
                .collect();
            format!("{{\"minutes\": {minutes}, \"uses\": {{{}}}}}", uses.join(", "))
        };
        let modes: Vec<String> = modes.iter().map(mode).collect();
        let place = self.tasks.len();
        self.tasks.push(format!(
            "{{\"id\": \"t{place}\", \"modes\": [{}]}}",
            modes.join(", ")
        ));
        place
    }

    fn lag(&mut self, after: usize, task: usize, max: Option<i64>) {
        let max = max.map_or(String::new(), |max| format!(", \"max\": {max}"));
        self.lags.push(format!(
            "{{\"after\": \"t{after}\", \"task\": \"t{task}\", \"min\": 0{max}}}"
        ));
    }

    /// Washing, then one or two cuts; sometimes what another dish needs too.
    fn prep(&mut self) -> usize {
        let minutes = self.draw.whole(3, 9);
        let mut last = self.task(&[(minutes, &[("hands", 1), ("board", 1)])]);
        for _ in 0..self.draw.whole(1, 2) {
            let minutes = self.draw.whole(6, 22);
            let skilled: &[(&str, i64)] = &[("hands", 1), ("board", 1), ("skilled", 1)];
            let plain: &[(&str, i64)] = &[("hands", 1), ("board", 1)];
            let uses = if self.draw.chance(25) { skilled } else { plain };
            let cut = self.task(&[(minutes, uses)]);
            self.lag(last, cut, None);
            last = cut;
        }
        if !self.shared.is_empty() && self.draw.chance(30) {
            let place = self
                .draw
                .whole(0, i64::try_from(self.shared.len()).expect("short") - 1);
            let other = self.shared[usize::try_from(place).expect("not negative")];
            self.lag(other, last, None);
        }
        if self.draw.chance(35) {
            self.shared.push(last);
        }
        last
    }

    fn finish(&mut self, cooked: usize) {
        let minutes = self.draw.whole(25, 45);
        let cool = self.task(&[(minutes, &[("shelf", 1)])]);
        let wait = self.draw.whole(10, 25);
        self.lag(cooked, cool, Some(wait));
        self.holds.push(format!(
            "{{\"after\": \"t{cooked}\", \"task\": \"t{cool}\", \"weight\": 1}}"
        ));
        let minutes = self.draw.whole(8, 20);
        let portion = self.task(&[(minutes, &[("hands", 1)])]);
        let wait = self.draw.chance(60).then_some(60);
        self.lag(cool, portion, wait);
    }

    fn stew(&mut self) {
        let prep = self.prep();
        let minutes = self.draw.whole(6, 14);
        let fry = self.task(&[(minutes, &[("hands", 1), ("burner", 1), ("large-pot", 1)])]);
        self.lag(prep, fry, None);
        let minutes = self.draw.whole(30, 80);
        let pot: &[(&str, i64)] = &[("burner", 1), ("large-pot", 1)];
        let simmer = self.task(&[(minutes, pot)]);
        self.lag(fry, simmer, Some(2));
        let stirs = self.draw.whole(0, 2);
        for stir in 1..=stirs {
            let at = minutes * stir / (stirs + 1);
            let visit = self.task(&[(2, &[("hands", 1)])]);
            let (least, most) = (at - 4, at + 4);
            self.offsets.push(format!(
                "{{\"of\": \"t{simmer}\", \"task\": \"t{visit}\", \"min\": {least}, \"max\": {most}}}"
            ));
        }
        self.finish(simmer);
    }

    fn roast(&mut self) {
        let prep = self.prep();
        let minutes = self.draw.whole(3, 7);
        let load = self.task(&[(minutes, &[("hands", 1)])]);
        self.lag(prep, load, None);
        let minutes = self.draw.whole(25, 70);
        let racks = if self.draw.chance(70) { 1 } else { 2 };
        let in_oven: &[(&str, i64)] = &[("rack", racks)];
        let in_pan: &[(&str, i64)] = &[("burner", 1), ("pan", 1), ("hands", 1)];
        let has_choice = self.draw.chance(20);
        let modes: &[(i64, &[(&str, i64)])] = &[(minutes, in_oven), (minutes / 2, in_pan)];
        let bake = self.task(&modes[..if has_choice { 2 } else { 1 }]);
        self.lag(load, bake, Some(4));
        let (best, slack) = (150 + 10 * self.draw.whole(0, 8), 5 * self.draw.whole(1, 4));
        let oven = self.roasts.len() % OVENS;
        self.roasts.push(Roast {
            task: bake,
            oven,
            least: best - slack,
            most: best + slack,
        });
        let minutes = self.draw.whole(2, 5);
        let unload = self.task(&[(minutes, &[("hands", 1)])]);
        self.lag(bake, unload, Some(2));
        self.finish(unload);
    }

    fn boil(&mut self) {
        let prep = self.prep();
        let minutes = self.draw.whole(14, 30);
        let water = self.task(&[(minutes, &[("burner", 1), ("large-pot", 1)])]);
        let put = self.task(&[(2, &[("hands", 1), ("burner", 1), ("large-pot", 1)])]);
        self.lag(water, put, Some(5));
        self.lag(prep, put, None);
        let minutes = self.draw.whole(8, 25);
        let cook = self.task(&[(minutes, &[("burner", 1), ("large-pot", 1)])]);
        self.lag(put, cook, Some(0));
        let drain = self.task(&[(4, &[("hands", 1)])]);
        self.lag(cook, drain, Some(1));
        self.finish(drain);
    }

    fn salad(&mut self) {
        let prep = self.prep();
        let minutes = self.draw.whole(8, 18);
        let mix = self.task(&[(minutes, &[("hands", 1), ("board", 1)])]);
        self.lag(prep, mix, None);
    }

    fn changeovers(&self) -> Vec<String> {
        let mut pairs = Vec::new();
        for (place, a) in self.roasts.iter().enumerate() {
            for b in self.roasts[place + 1..].iter().filter(|b| b.oven == a.oven) {
                if a.least <= b.most && b.least <= a.most {
                    continue;
                }
                // A minute for ten degrees up, one for five degrees down.
                let turn = |from: &Roast, to: &Roast| {
                    if to.least > from.most {
                        (to.least - from.most + 9) / 10
                    } else {
                        (from.least - to.most + 4) / 5
                    }
                };
                pairs.push(format!(
                    "{{\"a\": \"t{}\", \"a_mode\": 0, \"b\": \"t{}\", \"b_mode\": 0, \"a_to_b\": {}, \"b_to_a\": {}}}",
                    a.task,
                    b.task,
                    turn(a, b),
                    turn(b, a)
                ));
            }
        }
        pairs
    }

    fn json(&self, seed: u64) -> String {
        let resource =
            |(name, capacity): &(&str, i64)| format!("{{\"id\": \"{name}\", \"capacity\": {capacity}}}");
        let resources: Vec<String> = RESOURCES.iter().map(resource).collect();
        let changeovers = self.changeovers();
        let lists = [
            ("resources", &resources),
            ("tasks", &self.tasks),
            ("lags", &self.lags),
            ("offsets", &self.offsets),
            ("holds", &self.holds),
            ("changeovers", &changeovers),
        ];
        let mut text = format!("{{\n\"name\": \"community-{seed}\"");
        for (name, list) in lists {
            write!(text, ",\n\"{name}\": [\n{}\n]", list.join(",\n"))
                .expect("a text takes what is written to it");
        }
        text.push_str("\n}\n");
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_fixes_its_kitchen() {
        assert_eq!(project(11), project(11));
        assert_ne!(project(11), project(12));
    }

    #[test]
    fn every_kitchen_has_about_three_hundred_tasks() {
        for seed in SEEDS {
            let count = project(seed).matches("\"modes\"").count();
            assert!((TASKS..TASKS + 12).contains(&count), "{seed}: {count}");
        }
    }
}
