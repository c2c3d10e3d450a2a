//! Which published file is which: told by what its first line says, and by its name where lines look alike.

/// A published arrangement of files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layout {
    /// USDA FoodData Central, tables separated by commas: SR Legacy and Foundation foods.
    FdcCsv,
    /// USDA National Nutrient Database for Standard Reference, `^` between cells and `~` around text.
    SrAscii,
}

/// One file of a layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// `food.csv`: the foods.
    FdcFood,
    /// `nutrient.csv`: what the numbers of nutrients mean.
    FdcNutrient,
    /// `food_nutrient.csv`: the figures.
    FdcFoodNutrient,
    /// `measure_unit.csv`: names of household measures.
    FdcMeasureUnit,
    /// `food_portion.csv`: household measures and their weights.
    FdcFoodPortion,
    /// `FOOD_DES.txt`: the foods.
    SrFoodDes,
    /// `NUT_DATA.txt`: the figures.
    SrNutData,
    /// `WEIGHT.txt`: household measures and their weights.
    SrWeight,
}

impl Part {
    /// The part that a file is, by its name and its first line (more of the text does no harm); `None` when it is
    /// no part that is read here.
    #[must_use]
    pub fn of(name: &str, text: &str) -> Option<Self> {
        let line = text.trim_start_matches('\u{feff}').lines().next()?;
        if line.starts_with('~') && line.contains("~^") {
            Self::of_carets(name, line)
        } else {
            Self::of_header(name, line)
        }
    }

    /// The file's name in its publication.
    #[must_use]
    pub fn file_name(self) -> &'static str {
        match self {
            Self::FdcFood => "food.csv",
            Self::FdcNutrient => "nutrient.csv",
            Self::FdcFoodNutrient => "food_nutrient.csv",
            Self::FdcMeasureUnit => "measure_unit.csv",
            Self::FdcFoodPortion => "food_portion.csv",
            Self::SrFoodDes => "FOOD_DES.txt",
            Self::SrNutData => "NUT_DATA.txt",
            Self::SrWeight => "WEIGHT.txt",
        }
    }

    /// The layout it belongs to.
    #[must_use]
    pub fn layout(self) -> Layout {
        match self {
            Self::FdcFood
            | Self::FdcNutrient
            | Self::FdcFoodNutrient
            | Self::FdcMeasureUnit
            | Self::FdcFoodPortion => Layout::FdcCsv,
            Self::SrFoodDes | Self::SrNutData | Self::SrWeight => Layout::SrAscii,
        }
    }

    fn of_header(name: &str, line: &str) -> Option<Self> {
        let columns: Vec<&str> = line
            .split(',')
            .map(|cell| cell.trim().trim_matches('"'))
            .collect();
        let has = |wanted: &[&str]| wanted.iter().all(|column| columns.contains(column));
        if has(&["fdc_id", "data_type", "description"]) {
            Some(Self::FdcFood)
        } else if has(&["fdc_id", "nutrient_id", "amount"]) {
            Some(Self::FdcFoodNutrient)
        } else if has(&["id", "unit_name", "nutrient_nbr"]) {
            Some(Self::FdcNutrient)
        } else if has(&["fdc_id", "measure_unit_id", "gram_weight"]) {
            Some(Self::FdcFoodPortion)
        } else if has(&["id", "name"]) && named(name, "measure_unit") {
            Some(Self::FdcMeasureUnit)
        } else {
            None
        }
    }

    /// The name decides, because some releases have fewer cells; else the number of cells of Release 28.
    fn of_carets(name: &str, line: &str) -> Option<Self> {
        let parts = [
            (Self::SrFoodDes, "food_des", 14),
            (Self::SrNutData, "nut_data", 18),
            (Self::SrWeight, "weight", 7),
        ];
        let by_name = parts.iter().find(|(_, stem, _)| named(name, stem));
        let cells = line.split('^').count();
        let by_cells = || parts.iter().find(|(_, _, wanted)| *wanted == cells);
        by_name.or_else(by_cells).map(|(part, _, _)| *part)
    }
}

fn named(name: &str, stem: &str) -> bool {
    let last = name.rsplit(['/', '\\']).next().unwrap_or(name);
    last.to_ascii_lowercase().starts_with(stem)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(name: &str, text: &str, expected: Option<Part>) {
        assert_eq!(Part::of(name, text), expected, "{name}");
    }

    #[test]
    fn a_table_is_known_by_its_header_whatever_its_name() {
        check(
            "a.csv",
            "\"fdc_id\",\"data_type\",\"description\"\n",
            Some(Part::FdcFood),
        );
        check("b", "id,fdc_id,nutrient_id,amount", Some(Part::FdcFoodNutrient));
        check(
            "c",
            "\u{feff}id,name,unit_name,nutrient_nbr,rank",
            Some(Part::FdcNutrient),
        );
        let portions = "id,fdc_id,seq_num,amount,measure_unit_id,gram_weight";
        check("d", portions, Some(Part::FdcFoodPortion));
    }

    #[test]
    fn a_list_of_names_is_measures_only_by_its_name() {
        check(
            "x/measure_unit.csv",
            "\"id\",\"name\"\n",
            Some(Part::FdcMeasureUnit),
        );
        check("x/lab_method.csv", "\"id\",\"name\"\n", None);
    }

    #[test]
    fn a_file_of_carets_is_known_by_its_name_or_its_cells() {
        check("weight.txt", "~01001~^1^1^~cup~^227", Some(Part::SrWeight));
        check("unnamed", "~01001~^1^1^~cup~^227^^", Some(Part::SrWeight));
        check("FD_GROUP.txt", "~0100~^~Dairy~", None);
    }

    #[test]
    fn other_texts_are_no_part() {
        for text in ["", "hello", "{\"a\": 1}", "~", "id;name"] {
            check("note.txt", text, None);
        }
    }
}
