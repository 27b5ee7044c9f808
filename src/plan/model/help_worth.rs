//! `help-worth`: for each pair in focus, a row of effects in half points.

use crate::base::RuleId;
use crate::rules::kinds::HelpWorth;

use super::build::Builder;

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &HelpWorth) {
    let Some(table) = builder.setting.pack.tables.get(&rule.table.value) else {
        return;
    };
    for pair in 0..builder.setting.focus.len() {
        let demand = builder
            .setting
            .focus
            .get(pair)
            .map_or(0, |held| held.demand);
        let amounts = (0..builder.days())
            .map(|day| {
                builder
                    .items(day)
                    .iter()
                    .map(|item| item.effect(builder.setting, builder.week, pair))
                    .collect()
            })
            .collect();
        if let Some(row) = builder.row(id.as_str(), false, amounts) {
            row.tables.push((table.clone(), demand, 0));
        }
    }
}
