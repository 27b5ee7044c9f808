//! Tests of the method: what they name, and that each of their expectations could fail.

use crate::base::{At, CaseVariantId, Code, ExpectationId, Place, RuleTestId, nearest};
use crate::rules::expect::{Expect, RuleTest};

use super::Checks;
use super::declared::list;
use super::sections::Sort;
use super::walk::{Spot, Visit, Walk};

/// Checks every test.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (id, test) in &pack.tests {
        one(checks, &id.place, test);
        let mut named = Vec::new();
        test.expect
            .walk(&Spot::item(&id.place), &mut Named(&mut named));
        for (rule, place) in named {
            rule_is_there(checks, rule, place);
        }
    }
}

/// Rules that expectations name, whatever their kind.
struct Named<'n, 'p>(&'n mut Vec<(&'p str, &'p Place)>);

impl<'p> Visit<'p> for Named<'_, 'p> {
    fn id(&mut self, sort: Sort, id: &'p str, spot: &Spot<'_, 'p>) {
        if sort == Sort::AnyRule {
            self.0.push((id, spot.near()));
        }
    }
}

fn rule_is_there(checks: &mut Checks<'_, '_>, id: &str, place: &Place) {
    if checks.declared.may_be_rule(id) {
        return;
    }
    let known = checks.declared.rule_ids().map(|(_, known)| known);
    let help = match nearest(id, known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => String::from("write the id of a rule; its kind is not said"),
    };
    let what = format!("there is no rule `{id}` of any kind");
    checks.problem(Code::DanglingId, place.clone(), what, help);
}

fn one<'p>(checks: &mut Checks<'p, '_>, place: &Place, test: &'p RuleTest) {
    let mut expectations = Expectations {
        checks,
        test,
        count: 0,
    };
    expectations.all(&test.expect);
    let count = expectations.count;
    of_a_block(checks, test);
    match (test.log.is_empty(), test.expect.decides.is_empty()) {
        (true, false) => checks.problem(
            Code::MissingKey,
            place.clone(),
            "this test expects that something is decided, and has no `log`",
            "write what was trained and seen under `log`",
        ),
        (false, true) => checks.problem(
            Code::Contradiction,
            place.clone(),
            "this test has a `log`, and expects nothing to be decided from it",
            "write what is decided under `expect: decides`, or take the log out",
        ),
        _ => {}
    }
    let of_written = !(test.expect.sound.is_empty() && test.expect.breaks.is_empty());
    match (test.written.is_empty(), of_written) {
        (true, true) => checks.problem(
            Code::MissingKey,
            place.clone(),
            "this test expects something of a written week, and has none",
            "write its lines by day under `written`",
        ),
        (false, false) => checks.problem(
            Code::Contradiction,
            place.clone(),
            "this test has a `written` week, and expects nothing of it",
            "write `sound` or `breaks` under `expect`, or take the week out",
        ),
        _ => {}
    }
    checks.expects_something(
        place,
        count > 0,
        "write what its answer must show under `expect`, such as `contains`",
    );
}

/// A block is of one case without a log, and so long that the rules can lay it out; what only a block has is asked of one.
fn of_a_block(checks: &mut Checks<'_, '_>, test: &RuleTest) {
    let Some(weeks) = &test.weeks else {
        let (phase, figure) = (test.expect.phase.keys(), test.expect.figure.keys());
        for id in phase.chain(figure) {
            checks.problem(
                Code::MissingKey,
                id.place.clone(),
                format!("`{id}` asks for a week of a block, and this test has no `weeks`"),
                "write how many `weeks` the block has, or take it out",
            );
        }
        return;
    };
    let blocks = checks.pack.training_blocks.values();
    if !blocks
        .map(|block| block.weeks.value)
        .any(|held| (held.from..=held.to).contains(&weeks.value))
    {
        checks.problem(
            Code::OutOfRange,
            weeks.place.clone(),
            format!("no block of the rules has {} weeks", weeks.value),
            "write a number of `weeks` that one of `training-blocks` has",
        );
    }
    for (held, key) in [
        (!test.variants.is_empty(), "variants"),
        (!test.log.is_empty(), "log"),
        (!test.written.is_empty(), "written"),
    ] {
        if held {
            checks.problem(
                Code::Contradiction,
                weeks.place.clone(),
                format!("a test of a block has no `{key}`"),
                format!("take `weeks` out, or `{key}`"),
            );
        }
    }
}

struct Expectations<'c, 'p, 't> {
    checks: &'c mut Checks<'p, 't>,
    test: &'p RuleTest,
    count: usize,
}

impl Expectations<'_, '_, '_> {
    /// Each kind by name: a new one must say here when it could fail.
    fn all(&mut self, expect: &Expect) {
        let Expect {
            contains,
            lacks,
            count,
            before,
            dose,
            compare,
            reason,
            focus,
            missed,
            proof,
            no_week,
            said,
            decides,
            phase,
            figure,
            sound,
            breaks,
        } = expect;
        for (id, held) in sound {
            self.each(id, &held.within, true, "");
        }
        for (id, held) in breaks {
            let asked = held.rules.is_empty() == held.nothing;
            self.each(id, &held.within, asked, "`rules`, or `nothing: true` alone");
        }
        for (id, held) in phase {
            self.each(id, &held.within, true, "");
        }
        for (id, held) in figure {
            let asked = held.at_least.is_some() || held.at_most.is_some();
            self.each(id, &held.within, asked, "`at-least` or `at-most`");
        }
        for (id, held) in decides {
            self.each(id, &held.within, true, "");
        }
        for (id, held) in contains {
            self.each(id, &held.within, true, "");
        }
        for (id, held) in lacks {
            self.each(id, &held.within, true, "");
        }
        for (id, held) in count {
            let least = held.at_least.as_ref().is_some_and(|least| least.value > 0);
            let most = held.at_most.as_ref().is_some_and(|most| most.value >= 0);
            let fails = least || most;
            self.each(
                id,
                &held.within,
                fails,
                "`at-least` above 0, or `at-most`, or both",
            );
        }
        for (id, held) in before {
            self.each(id, &held.within, true, "");
        }
        for (id, held) in dose {
            let asked = [held.sets, held.reps, held.percent_from, held.percent_to]
                .iter()
                .any(Option::is_some);
            let asked = asked || held.loaded.is_some() || held.estimated.is_some();
            self.each(
                id,
                &held.within,
                asked,
                "`sets`, `reps`, `percent-from`, `percent-to`, `loaded` or `estimated`",
            );
        }
        for (id, held) in compare {
            let both = [held.more_in.clone(), held.fewer_in.clone()];
            let differ = held.more_in != held.fewer_in;
            self.each(id, &both, differ, "two different variants");
        }
        for (id, held) in reason {
            let asked =
                !(held.causes.is_empty() && held.constraints.is_empty() && held.rules.is_empty());
            self.each(
                id,
                &held.within,
                asked,
                "`causes`, `constraints` or `rules`",
            );
        }
        for (id, held) in focus {
            let asked =
                !(held.works_on.is_empty() && held.leaves.is_empty() && held.opposed.is_empty());
            self.each(id, &held.within, asked, "`works-on`, `leaves` or `opposed`");
        }
        for (id, held) in missed {
            let levels = [held.last_at_most, held.middle_at_most, held.first_at_most];
            let asked = levels.iter().any(Option::is_some) || !held.kept.is_empty();
            self.each(
                id,
                &held.within,
                asked,
                "`last-at-most`, `middle-at-most`, `first-at-most` or `kept`",
            );
        }
        for (id, held) in proof {
            self.each(id, &held.within, true, "");
        }
        for (id, held) in no_week {
            self.each(id, &held.within, true, "");
        }
        for (id, held) in said {
            let asked = !(held.rules.is_empty()
                && held.missing_fields.is_empty()
                && held.missing_bests.is_empty());
            self.each(
                id,
                &held.within,
                asked,
                "`rules`, `missing-fields` or `missing-bests`",
            );
        }
    }

    fn each(
        &mut self,
        id: &At<ExpectationId>,
        within: &[At<CaseVariantId>],
        can_fail: bool,
        wants: &str,
    ) {
        self.count += 1;
        if !can_fail {
            self.checks.problem(
                Code::EmptyMap,
                id.place.clone(),
                format!("`{id}` asks for nothing, so it could never fail"),
                format!("write {wants} under it"),
            );
        }
        let weeks = self.test.block_weeks();
        let variants = self.test.variants.keys().map(|id| id.as_str());
        let known: Vec<&str> = variants.chain(weeks.iter().map(|id| id.as_str())).collect();
        for variant in within {
            if known.contains(&variant.as_str()) {
                continue;
            }
            let help = match (
                known.as_slice(),
                nearest(variant.as_str(), known.iter().copied()),
            ) {
                ([], _) => String::from("take it out, or write the variant under `variants`"),
                (_, Some(near)) => format!("did you mean `{near}`?"),
                (known, None) => format!("the variants are {}", list(known)),
            };
            self.checks.problem(
                Code::DanglingId,
                variant.place.clone(),
                format!("this test has no variant `{variant}`"),
                help,
            );
        }
    }
}

/// What tests of every kind are held to.
impl Checks<'_, '_> {
    /// Says so of a test that expects nothing.
    pub(super) fn expects_something(&mut self, place: &Place, does: bool, help: &str) {
        if !does {
            let what = "this test expects nothing";
            self.problem(Code::EmptyMap, place.clone(), what, help);
        }
    }

    /// Says so where a test of another kind has the same id, once for the two.
    pub(super) fn is_only_test(&mut self, id: &At<RuleTestId>) {
        let all = self.pack.test_ids();
        let mut others = all.take_while(|other| !std::ptr::eq(*other, id));
        if let Some(other) = others.find(|other| other.value == id.value) {
            let what = format!("there is another test `{id}`, at {}", other.place);
            let help = "give each test an id of its own";
            self.problem(Code::DuplicateId, id.place.clone(), what, help);
        }
    }
}
