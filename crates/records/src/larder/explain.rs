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
