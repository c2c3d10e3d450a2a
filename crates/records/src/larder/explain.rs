//! Explanations: why a figure that a checker would flag is meant. They belong to the file, not to the recipe, so
//! no snapshot carries them.

use larderwright_model::RuleId;

use crate::reader::Fields;

pub(crate) const EXPLAIN_KEYS: &[&str] = &["rule", "why"];

/// Reads the explanations of a recipe file: the rule that speaks, and the reason.
pub(super) fn read(fields: &Fields<'_>) -> Vec<(RuleId, String)> {
    let one = |fields: &Fields<'_>| {
        fields.only(EXPLAIN_KEYS);
        (RuleId::new(&fields.text("rule")), fields.text("why"))
    };
    fields.tables("explain").iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::super::parse_explained;
    use super::*;

    #[test]
    fn an_explanation_names_its_rule_and_its_reason() {
        let text = "name = \"Soup\"\n[[explain]]\nrule = \"recipe.salt\"\nwhy = \"Meant so.\"\n";
        let read = parse_explained(text).expect("it is well formed");
        assert_eq!(read, [(RuleId::new("recipe.salt"), "Meant so.".to_owned())]);
    }

    #[test]
    fn an_explanation_without_a_reason_is_refused_at_its_line() {
        let text =
            "[[explain]]\nrule = \"recipe.salt\"\n[[explain]]\nrule = \"recipe.pot\"\nwhy = \"x\"\nwho = 1\n";
        let problems = parse_explained(text).expect_err("a reason is missing");
        let told: Vec<_> = problems.iter().map(|it| (it.line, it.field.as_str())).collect();
        assert_eq!(told, [(1, "explain[1].why"), (6, "explain[2].who")]);
    }
}
