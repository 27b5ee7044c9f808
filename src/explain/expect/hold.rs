//! Holds what a test expects against what came out.

use crate::base::{
    At, CaseFieldId, CaseVariantId, ExpectationId, NamedRuleId, ReferenceId, RuleTestId, SkillId,
};
use crate::explain::answer::{Answer, Clashing, Missing, NoWeek, Plan};
use crate::explain::audit::Audit;
use crate::explain::course::{BlockWeek, TrainingBlock};
use crate::explain::review::{Decision, Review};
use crate::infer::Setting;
use crate::plan::Week;
use crate::rules::expect::{BreaksIs, Compare, DecidesIs, NoWeekIs, RuleTest, SaidIs, SoundIs};
use crate::rules::vocab::DayFilter;

use super::look::{counted, lines, matching};
use super::{Instead, Tally, TestResult};

/// A variant of a test's case with what came of it.
pub(crate) struct Asked<'a> {
    pub(crate) variant: Option<&'a CaseVariantId>,
    pub(crate) setting: &'a Setting<'a>,
    pub(crate) week: &'a Week<'a>,
    pub(crate) came: Came<'a>,
    /// The same as a week of a block; none where no block was asked for.
    pub(crate) of_block: Option<(&'a TrainingBlock, &'a BlockWeek)>,
    /// What the test's written week comes to; none where it has none.
    pub(crate) audit: Option<&'a Audit>,
    /// What the test's log says; none where it has none.
    pub(crate) review: Option<&'a Review>,
}

/// What came of a case.
#[derive(Clone, Copy)]
pub(crate) enum Came<'a> {
    Week(&'a Plan),
    NoWeek(&'a NoWeek),
    NotFound,
}

impl<'a> From<&'a Answer> for Came<'a> {
    fn from(answer: &'a Answer) -> Self {
        match answer {
            Answer::Week(plan) => Self::Week(plan),
            Answer::NoWeek(none) => Self::NoWeek(none),
            Answer::NotFound(_) => Self::NotFound,
        }
    }
}

/// What came of a test, by the answers to all its variants.
pub(crate) fn hold(id: &At<RuleTestId>, test: &RuleTest, all: &[Asked<'_>]) -> TestResult {
    let mut holding = Holding {
        all,
        tally: Tally::default(),
    };
    let expect = &test.expect;
    holding.each("contains", &expect.contains);
    holding.each("lacks", &expect.lacks);
    holding.each("count", &expect.count);
    holding.each("before", &expect.before);
    holding.each("dose", &expect.dose);
    holding.each("reason", &expect.reason);
    holding.each("focus", &expect.focus);
    holding.each("missed", &expect.missed);
    holding.each("proof", &expect.proof);
    holding.each("no-week", &expect.no_week);
    holding.each("said", &expect.said);
    holding.each("decides", &expect.decides);
    holding.each("phase", &expect.phase);
    holding.each("figure", &expect.figure);
    holding.each("sound", &expect.sound);
    holding.each("breaks", &expect.breaks);
    for (id, held) in &expect.compare {
        holding.compare(id, held);
    }
    let unanswered = all
        .iter()
        .filter(|asked| matches!(asked.came, Came::NotFound));
    let unanswered = unanswered.map(|asked| asked.variant.cloned()).collect();
    holding.tally.done(id, &test.because, unanswered)
}

struct Holding<'a> {
    all: &'a [Asked<'a>],
    tally: Tally,
}

/// What is expected of one answer.
pub(super) trait Expected {
    /// Variants that it is about; all where there are none.
    fn within(&self) -> &[At<CaseVariantId>];
    /// What stood there instead; none where it holds.
    fn instead(&self, asked: &Asked<'_>) -> Option<Instead>;
}

impl Holding<'_> {
    fn each<'e, E: Expected + 'e>(
        &mut self,
        kind: &'static str,
        expectations: impl IntoIterator<Item = (&'e At<ExpectationId>, &'e E)>,
    ) {
        for (id, expected) in expectations {
            let about = expected.within();
            for asked in self.all {
                let meant = about.is_empty()
                    || asked
                        .variant
                        .is_some_and(|variant| about.iter().any(|held| held.value == *variant));
                if !meant || matches!(asked.came, Came::NotFound) {
                    continue;
                }
                let instead = expected.instead(asked);
                self.tally.take(kind, id, asked.variant, instead);
            }
        }
    }

    fn compare(&mut self, id: &At<ExpectationId>, expected: &Compare) {
        let find = |wanted: &CaseVariantId| {
            let mut all = self.all.iter();
            all.find(|asked| asked.variant == Some(wanted))
        };
        let (Some(more), Some(fewer)) = (find(&expected.more_in), find(&expected.fewer_in)) else {
            return;
        };
        let mut counts = Vec::new();
        for asked in [more, fewer] {
            match plan_of(asked) {
                Ok(plan) => {
                    let every = lines(asked, plan, &DayFilter::default());
                    counts.push(counted(
                        &matching(asked, &expected.what, &every),
                        expected.counted_in,
                    ));
                }
                Err(Some(instead)) => {
                    let variant = asked.variant;
                    return self.tally.take("compare", id, variant, Some(*instead));
                }
                Err(None) => return,
            }
        }
        let [more_is, fewer_is] = counts.as_slice() else {
            return;
        };
        let instead = (more_is <= fewer_is).then_some(Instead::Compared {
            more: *more_is,
            fewer: *fewer_is,
        });
        self.tally
            .take("compare", id, Some(&expected.more_in.value), instead);
    }
}

/// The week, or what stood there instead; nothing where nothing was found.
pub(super) fn plan_of<'a>(asked: &Asked<'a>) -> Result<&'a Plan, Option<Box<Instead>>> {
    match asked.came {
        Came::Week(plan) => Ok(plan),
        Came::NoWeek(none) => Err(Some(Box::new(Instead::NoWeek(clashing(none))))),
        Came::NotFound => Err(None),
    }
}

fn clashing(none: &NoWeek) -> Vec<String> {
    let parts = none.parts().map(|clash| match &clash.what {
        Clashing::Rule { id, .. } => id.to_string(),
        Clashing::Field { field, .. } => field.to_string(),
        Clashing::Days(_) => String::from("training-days"),
        Clashing::Layout(layout) => layout.to_string(),
        Clashing::Phase { phase, .. } => phase.to_string(),
        Clashing::Bar { bar, .. } => bar.to_string(),
        Clashing::Pieces => String::from("gym"),
        Clashing::List { list, .. } => list.as_str().to_owned(),
    });
    parts.collect()
}

impl Expected for NoWeekIs {
    fn within(&self) -> &[At<CaseVariantId>] {
        &self.within
    }

    fn instead(&self, asked: &Asked<'_>) -> Option<Instead> {
        let none = match asked.came {
            Came::NoWeek(none) => none,
            Came::Week(_) => return Some(Instead::Week),
            Came::NotFound => return None,
        };
        let has_rule = |wanted: &str| {
            none.parts().any(
                |clash| matches!(&clash.what, Clashing::Rule { id, .. } if id.as_str() == wanted),
            )
        };
        let has_field = |wanted: &str| {
            none.parts().any(
                |clash| matches!(&clash.what, Clashing::Field { field, .. } if field.as_str() == wanted),
            )
        };
        let rules = self.rules.iter().filter(|id| !has_rule(id.as_str()));
        let fields = self.fields.iter().filter(|id| !has_field(id.as_str()));
        not_among(
            rules.map(|id| id.value.clone()).collect(),
            fields.map(|id| id.value.clone()).collect(),
            Vec::new(),
        )
    }
}

impl Expected for SaidIs {
    fn within(&self) -> &[At<CaseVariantId>] {
        &self.within
    }

    fn instead(&self, asked: &Asked<'_>) -> Option<Instead> {
        let (said, missing): (Vec<&str>, &[Missing]) = match asked.came {
            Came::Week(plan) => {
                let stand_ins = plan.stand_ins.iter().map(|stand_in| &stand_in.said);
                let seldom = plan.seen.iter().filter_map(|seen| seen.too_seldom.as_ref());
                let said = plan.cautions.iter().chain(stand_ins).chain(seldom);
                (said.map(|said| said.rule.as_str()).collect(), &plan.missing)
            }
            Came::NoWeek(none) => (
                none.cautions
                    .iter()
                    .map(|said| said.rule.as_str())
                    .collect(),
                &[],
            ),
            Came::NotFound => return None,
        };
        let rules = self.rules.iter().filter(|id| !said.contains(&id.as_str()));
        let fields = self.missing_fields.iter().filter(|wanted| {
            !missing
                .iter()
                .any(|held| matches!(held, Missing::Field(field) if *field == wanted.value))
        });
        let bests = self.missing_bests.iter().filter(|wanted| {
            !missing
                .iter()
                .any(|held| matches!(held, Missing::Best { reference, .. } if *reference == wanted.value))
        });
        not_among(
            rules.map(|id| id.value.clone()).collect(),
            fields.map(|id| id.value.clone()).collect(),
            bests.map(|id| id.value.clone()).collect(),
        )
    }
}

impl Expected for SoundIs {
    fn within(&self) -> &[At<CaseVariantId>] {
        &self.within
    }

    fn instead(&self, asked: &Asked<'_>) -> Option<Instead> {
        let is_sound = asked.audit?.soundness.is_sound;
        (is_sound != self.is).then_some(Instead::Sound(is_sound))
    }
}

impl Expected for BreaksIs {
    fn within(&self) -> &[At<CaseVariantId>] {
        &self.within
    }

    fn instead(&self, asked: &Asked<'_>) -> Option<Instead> {
        let audit = asked.audit?;
        let broken = |id: &At<NamedRuleId>| {
            let mut broken = audit.broken.iter();
            broken.any(|lack| lack.ruling.is_rule(id.as_str()))
        };
        let holds = if self.nothing {
            audit.clashes == 0
        } else {
            self.rules.iter().all(broken)
        };
        (!holds).then(|| {
            let broken = audit.broken.iter().map(|lack| lack.ruling.to_string());
            Instead::Breaks(broken.collect(), audit.clashes)
        })
    }
}

impl Expected for DecidesIs {
    fn within(&self) -> &[At<CaseVariantId>] {
        &self.within
    }

    fn instead(&self, asked: &Asked<'_>) -> Option<Instead> {
        let faults = asked.review.into_iter().flat_map(|held| &held.faults);
        let is_meant = |skill: &SkillId| self.skill.as_ref().is_none_or(|of| of.value == *skill);
        let faults =
            faults.filter(|held| held.fault.id == self.fault.value && is_meant(&held.skill));
        let all = faults.flat_map(|held| &held.exercises);
        let all = all.filter(|held| held.exercise.id == self.exercise.value);
        let all: Vec<_> = all.filter_map(|held| held.decision.as_ref()).collect();
        let holds = |held: &&&Decision| {
            let by = self.by.as_ref();
            held.decided.as_str() == self.is.as_str() && by.is_none_or(|by| by.value == held.by)
        };
        if all.iter().any(|held| holds(&held)) {
            return None;
        }
        let instead = all.iter().map(|held| (held.decided, held.by.clone()));
        Some(Instead::Decided(instead.collect()))
    }
}

fn not_among(
    rules: Vec<NamedRuleId>,
    fields: Vec<CaseFieldId>,
    bests: Vec<ReferenceId>,
) -> Option<Instead> {
    let lacking = !(rules.is_empty() && fields.is_empty() && bests.is_empty());
    lacking.then_some(Instead::NotAmong {
        rules,
        fields,
        bests,
    })
}
