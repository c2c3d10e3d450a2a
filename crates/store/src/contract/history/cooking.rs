//! Cooking: lots go into a pot, it is cooled, what comes out goes into boxes.

use larderwright_model::{
    Account, BatchId, BoxId, ComponentId, CookedFact, Fact, Goods, LotCard, LotId, Measured, Move, Place,
    Reading, Reported, SessionId, WayId,
};
use larderwright_quantity::{Mass, Permille, Temperature};

use super::{Kitchen, Shelf};

impl Kitchen {
    pub(super) fn cooks(&mut self) {
        let component = *self
            .random
            .pick(&["chickpeas", "brown-rice", "roast-roots", "tahini-sauce"]);
        self.batches += 1;
        let batch = BatchId::new(&format!("{component}@{}/{}", self.at().date(), self.batches));
        let pot = Account::Batch(batch.clone());
        let mut steps = Vec::new();
        for _ in 0..self.random.range(1, 3) {
            let Some(at) = self.shelf() else { break };
            steps.push(self.take(at, pot.clone()));
        }
        let went_in: i64 = steps.iter().map(|step| step.mass.mg()).sum();
        let worth = steps.iter().map(|step| step.worth).sum();
        if went_in == 0 {
            return;
        }
        let trim = self.random.range(0, went_in / 10);
        steps.push(of_pot(&batch, &pot, &Account::Trim, trim));
        let output = (went_in - trim) * self.random.range(70, 260) / 100;
        let change = output - (went_in - trim);
        steps.push(if change >= 0 {
            of_pot(&batch, &Account::CookingChange, &pot, change)
        } else {
            of_pot(&batch, &pot, &Account::CookingChange, -change)
        });
        let fact = self.cooked(component, &batch, output);
        self.tell(fact, Vec::new(), steps);
        self.cools(&batch);
        self.stores(component, &batch, (output, worth));
    }

    fn cooked(&mut self, component: &str, batch: &BatchId, output: i64) -> Fact {
        let filled = Measured::Filled(Permille::from_permille(self.random.range(100, 1000)));
        let minutes = self.random.range(5, 200);
        let measures = [Measured::Weighed, Measured::Expected, filled];
        Fact::Cooked(CookedFact {
            batch: batch.clone(),
            component: ComponentId::new(component),
            way: WayId::new("dry"),
            session: self.random.chance(80).then(|| SessionId::new("2026-11-29/1")),
            x: Mass::from_g(500),
            expected: Mass::from_g(1_200),
            output: Mass::from_mg(output),
            measured: *self.random.pick(&measures),
            minutes: self.random.chance(50).then_some(minutes),
            minutes_planned: Some(90),
            reported: Reported::Told,
        })
    }

    fn cools(&mut self, batch: &BatchId) {
        let looks = self.random.range(0, 3);
        let readings = (0..looks).map(|look| Reading {
            at: self.at(),
            temperature: (look > 0).then(|| Temperature::from_deci_c(600 - 200 * look)),
        });
        let readings = readings.collect();
        let batch = batch.clone();
        if self.random.chance(70) {
            self.elapsed_ms += 3_000_000;
            self.tell(Fact::Cooled { batch, readings }, Vec::new(), Vec::new());
        }
    }

    /// Into one to three boxes; the last milligrams stay in the pot.
    fn stores(&mut self, component: &str, batch: &BatchId, (output, worth): (i64, i64)) {
        let lots = self.random.range(1, 3);
        let (mg, worth) = (output / lots, worth / lots);
        let (mut cards, mut steps) = (Vec::new(), Vec::new());
        for at in 1..=lots {
            let place = *self.random.pick(&[Place::Fridge, Place::Freezer]);
            let goods = Goods::Component(ComponentId::new(component));
            let card = LotCard {
                boxes: vec![(BoxId::new("box-1l"), 1)],
                ..self.card(&format!("{batch}/{at}"), goods)
            };
            steps.push(Move {
                lot: card.lot.clone(),
                from: Account::Batch(batch.clone()),
                to: Account::Place(place),
                mass: Mass::from_mg(mg),
                worth,
            });
            cards.push(card.clone());
            self.shelves.push(Shelf {
                card,
                place,
                mg,
                worth,
            });
        }
        let batch = batch.clone();
        self.tell(Fact::Stored { batch }, cards, steps);
    }
}

fn of_pot(batch: &BatchId, from: &Account, to: &Account, mg: i64) -> Move {
    Move {
        lot: LotId::new(&format!("pot:{batch}")),
        from: from.clone(),
        to: to.clone(),
        mass: Mass::from_mg(mg),
        worth: 0,
    }
}
