//! What the household looks up: its words, its prices, its own table of foods.

use larderwright_intake::ImportedFood;
use larderwright_ledger::prices::{self, Paid};
use larderwright_model::Region;
use larderwright_quantity::{Currency, System};
use larderwright_records::foods::{FoodBook, Merged, foods_from_json, foods_to_json};
use larderwright_store::{Put, Store};
use larderwright_views::Words;

use super::{Home, HomeError};

/// The name of the document that keeps imported foods.
const FOODS: &str = "foods";

/// What an import did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptFoods {
    /// What it changed.
    pub merged: Merged,
    /// How many foods the table holds now.
    pub foods: usize,
}

impl<S: Store> Home<S> {
    /// How the household reads masses, times and money; metric and by the twenty-four hours while there is none.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn words(&self) -> Result<Words, HomeError> {
        match self.household().await {
            Ok(household) => Ok(Words::of(&household)),
            Err(error @ HomeError::Store(_)) => Err(error),
            Err(_) => Ok(Words {
                system: System::Metric,
                region: Region::Eu,
                currency: Currency::parse("EUR").expect("three letters are a code"),
            }),
        }
    }

    /// The last price of each pack that was paid in two years.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn prices(&self) -> Result<Vec<Paid>, HomeError> {
        let bought = self.lately(&["bought"]).await?;
        let book = prices::paid(&bought);
        Ok(prices::latest(&book).into_iter().cloned().collect())
    }

    /// The foods that were imported.
    ///
    /// # Errors
    /// When the store fails, or what it keeps cannot be read.
    pub async fn imported_foods(&self) -> Result<FoodBook, HomeError> {
        match self.store.document(FOODS).await? {
            None => Ok(FoodBook::default()),
            Some(document) => Ok(foods_from_json(&document.text)?),
        }
    }

    /// Takes foods into the household's own table; those that stand there already are renewed.
    ///
    /// # Errors
    /// When the store fails, or somebody else imported at the same time.
    pub async fn keep_foods(&self, foods: Vec<ImportedFood>) -> Result<KeptFoods, HomeError> {
        let version = self
            .store
            .document(FOODS)
            .await?
            .map_or(0, |document| document.version);
        let (book, merged) = self.imported_foods().await?.merge(foods);
        match self
            .store
            .put_document(FOODS, &foods_to_json(&book), version)
            .await?
        {
            Put::Saved(_) => Ok(KeptFoods {
                merged,
                foods: book.foods.len(),
            }),
            Put::Overtaken(_) => Err(HomeError::Overtaken),
        }
    }
}
