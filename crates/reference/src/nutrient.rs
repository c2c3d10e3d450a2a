//! The figures every food carries, their order in the table and their units.

/// A figure of composition per 100 g of edible portion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the nutrients")]
pub enum Nutrient {
    Water,
    Energy,
    Protein,
    Fat,
    Carbohydrate,
    Fibre,
    Sugars,
    Saturates,
    Monounsaturates,
    Polyunsaturates,
    TransFat,
    Cholesterol,
    Sodium,
    Potassium,
    Calcium,
    Iron,
    Magnesium,
    Phosphorus,
    Zinc,
    VitaminA,
    VitaminC,
    VitaminD,
    VitaminE,
    VitaminK,
    Thiamin,
    Riboflavin,
    Niacin,
    VitaminB6,
    Folate,
    VitaminB12,
    Choline,
    Alcohol,
}

/// What a figure is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NutrientUnit {
    /// Kilocalories.
    Kilocalorie,
    /// Grams.
    Gram,
    /// Milligrams.
    Milligram,
    /// Micrograms; of vitamin A retinol activity equivalents, of folate dietary folate equivalents.
    Microgram,
}

impl Nutrient {
    /// Every nutrient, in the order of the table.
    pub const ALL: [Self; 32] = [
        Self::Water,
        Self::Energy,
        Self::Protein,
        Self::Fat,
        Self::Carbohydrate,
        Self::Fibre,
        Self::Sugars,
        Self::Saturates,
        Self::Monounsaturates,
        Self::Polyunsaturates,
        Self::TransFat,
        Self::Cholesterol,
        Self::Sodium,
        Self::Potassium,
        Self::Calcium,
        Self::Iron,
        Self::Magnesium,
        Self::Phosphorus,
        Self::Zinc,
        Self::VitaminA,
        Self::VitaminC,
        Self::VitaminD,
        Self::VitaminE,
        Self::VitaminK,
        Self::Thiamin,
        Self::Riboflavin,
        Self::Niacin,
        Self::VitaminB6,
        Self::Folate,
        Self::VitaminB12,
        Self::Choline,
        Self::Alcohol,
    ];

    /// The unit whose thousandths the table counts.
    #[must_use]
    pub fn unit(self) -> NutrientUnit {
        match self {
            Self::Energy => NutrientUnit::Kilocalorie,
            Self::Water
            | Self::Protein
            | Self::Fat
            | Self::Carbohydrate
            | Self::Fibre
            | Self::Sugars
            | Self::Saturates
            | Self::Monounsaturates
            | Self::Polyunsaturates
            | Self::TransFat
            | Self::Alcohol => NutrientUnit::Gram,
            Self::Cholesterol
            | Self::Sodium
            | Self::Potassium
            | Self::Calcium
            | Self::Iron
            | Self::Magnesium
            | Self::Phosphorus
            | Self::Zinc
            | Self::VitaminC
            | Self::VitaminE
            | Self::Thiamin
            | Self::Riboflavin
            | Self::Niacin
            | Self::VitaminB6
            | Self::Choline => NutrientUnit::Milligram,
            Self::VitaminA | Self::VitaminD | Self::VitaminK | Self::Folate | Self::VitaminB12 => {
                NutrientUnit::Microgram
            }
        }
    }
}
