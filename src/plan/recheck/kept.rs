//! `kept`: what was begun the week before and not done for long enough, which must be there again.

use std::collections::BTreeSet;

use crate::rules::kinds::Kept;

use super::Held;
use super::exact::Exact;
use super::found::Found;
use super::view::View;

impl Held for Kept {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let there: BTreeSet<usize> = view
            .sessions()
            .flat_map(|(_, session)| view.of(&self.what, session))
            .map(|item| item.exercise)
            .collect();
        let mut asked = BTreeSet::new();
        for (before, placed) in view.setting.before() {
            let is_begun =
                before.weeks < self.weeks.value.into() && view.setting.matches(&self.what, &placed);
            if is_begun && asked.insert(placed.exercise) && !there.contains(&placed.exercise) {
                found.lack(self.yields, None, 1, 1)?;
            }
        }
        Ok(())
    }
}
