//! Eating: lots go onto plates, some comes back, what is left in the pot goes into a box.

use larderwright_model::{
    Account, EaterId, Fact, Goods, LotId, MealId, Move, Place, Reported, ServedFact, SittingId,
};
use larderwright_quantity::Mass;

use super::{Kitchen, Shelf};

impl Kitchen {
    pub(super) fn eats(&mut self) {
        let sitting = SittingId::new(&format!("{}-dinner", self.at().date()));
        let reports = [Reported::Told, Reported::Presumed, Reported::Skipped];
        let reported = *self.random.pick(&reports);
        let mut steps = Vec::new();
        if reported != Reported::Skipped {
            for _ in 0..self.random.range(1, 4) {
                let Some(at) = self.shelf() else { break };
                steps.push(self.take(at, Account::Eaten));
            }
        }
        let eaten: i64 = steps.iter().map(|step| step.mass.mg()).sum();
        let fact = Fact::Served(ServedFact {
            sitting: sitting.clone(),
            meal: self.random.chance(90).then(|| MealId::new("grain-bowl")),
            eaters: vec![EaterId::new("ada"), EaterId::new("bo")],
            covers: 3,
            planned: Mass::from_g(900),
            reported,
        });
        let lots: Vec<LotId> = steps.iter().map(|step| step.lot.clone()).collect();
        self.tell(fact, Vec::new(), steps);
        if let Some(lot) = lots.first()
            && self.random.chance(25)
        {
            self.scrapes_plates(&sitting, lot, eaten / 5);
        }
        if eaten > 0 && self.random.chance(25) {
            self.keeps_what_is_left(sitting, eaten / 4);
        }
    }

    fn scrapes_plates(&mut self, sitting: &SittingId, lot: &LotId, mg_max: i64) {
        let scraps = Move {
            lot: lot.clone(),
            from: Account::Eaten,
            to: Account::Bin,
            mass: Mass::from_mg(self.random.range(0, mg_max)),
            worth: 0,
        };
        let sitting = sitting.clone();
        self.tell(Fact::Returned { sitting }, Vec::new(), vec![scraps]);
    }

    fn keeps_what_is_left(&mut self, sitting: SittingId, mg: i64) {
        let lot = format!("{sitting}/left-{}", self.events.len());
        let card = self.card(&lot, Goods::Dish(MealId::new("grain-bowl")));
        let step = Move {
            lot: card.lot.clone(),
            from: Account::Eaten,
            to: Account::Place(Place::Fridge),
            mass: Mass::from_mg(mg),
            worth: 0,
        };
        let sitting = self.random.chance(90).then_some(sitting);
        self.tell(Fact::LeftOver { sitting }, vec![card.clone()], vec![step]);
        self.shelves.push(Shelf {
            card,
            place: Place::Fridge,
            mg,
            worth: 0,
        });
    }
}
