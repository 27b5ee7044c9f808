//! A pack as read: every item by kind, sorted by id, with the place of its key.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{
    At, AttemptFieldId, AxisId, BarId, BestFromId, CaseFieldId, CauseId, DoseId, EffortId,
    EstimateId, ExerciseId, FactorId, FaultId, GroupId, JudgementId, LayoutId, MarkId, MeasureId,
    ObservationId, PartId, PhaseId, QualityId, ReferenceId, ReviewDecisionId, ReviewWindowId,
    RoleId, RuleTestId, SeenWhereId, SignId, SkillId, SoundWeekId, SourceId, StressId, TableId,
    TrackEventId, TrackFilterId, TrackMeasureId, TrackRemarkId, TrainingBlockId, WeekFigureId,
    WordId, ZoneTableId,
};

use super::expect::RuleTest;
use super::expect_track::TrackTest;
use super::expect_watched::WatchedTest;
use super::kinds::Rules;
use super::vocab::{
    AttemptChoice, AttemptNumber, Axis, Bar, BestFrom, CapacityCause, CommonSource, Complex,
    DateField, Dose, Effort, Estimate, ExpertSource, FactorByChoice, FactorByNumber, FactorByPhase,
    Fault, Group, Judgement, Layout, Mark, Measure, MovementCause, Observation, OneOfField, Part,
    Phase, PublishedSource, Quality, Reference, ReviewDecision, ReviewWindow, Role, Root,
    SeenWhere, Sign, Skill, SomeOfField, SoundWeek, Span, Stress, Stretch, Table, TrackEvent,
    TrackFilter, TrackMeasure, TrackRemark, TrainingBlock, Variation, WeekFigure, WholeField, Word,
    ZoneTable,
};

/// Items of one kind, sorted by id; the key carries the place of the item.
pub(crate) type Items<I, T> = BTreeMap<At<I>, T>;

/// Everything that a pack says.
#[derive(Debug, Clone, Default)]
pub(crate) struct Pack {
    pub(crate) skills: Items<SkillId, Skill>,
    pub(crate) references: Items<ReferenceId, Reference>,
    pub(crate) axes: Items<AxisId, Axis>,
    pub(crate) roots: Items<ExerciseId, Root>,
    pub(crate) variations: Items<ExerciseId, Variation>,
    pub(crate) complexes: Items<ExerciseId, Complex>,
    /// Variations that no file lists.
    pub(crate) composed: BTreeSet<ExerciseId>,
    pub(crate) faults: Items<FaultId, Fault>,
    pub(crate) observations: Items<ObservationId, Observation>,
    pub(crate) track_measures: Items<TrackMeasureId, TrackMeasure>,
    pub(crate) track_events: Items<TrackEventId, TrackEvent>,
    pub(crate) track_filters: Items<TrackFilterId, TrackFilter>,
    pub(crate) track_remarks: Items<TrackRemarkId, TrackRemark>,
    pub(crate) attempt_one_of: Items<AttemptFieldId, AttemptChoice>,
    pub(crate) attempt_whole: Items<AttemptFieldId, AttemptNumber>,
    pub(crate) signs: Items<SignId, Sign>,
    pub(crate) judgements: Items<JudgementId, Judgement>,
    pub(crate) sound_weeks: Items<SoundWeekId, SoundWeek>,
    pub(crate) training_blocks: Items<TrainingBlockId, TrainingBlock>,
    pub(crate) week_figures: Items<WeekFigureId, WeekFigure>,
    pub(crate) review_windows: Items<ReviewWindowId, ReviewWindow>,
    pub(crate) review_decisions: Items<ReviewDecisionId, ReviewDecision>,
    pub(crate) seen_where: Items<SeenWhereId, SeenWhere>,
    pub(crate) best_from: Items<BestFromId, BestFrom>,
    pub(crate) estimates: Items<EstimateId, Estimate>,
    pub(crate) movement_causes: Items<CauseId, MovementCause>,
    pub(crate) capacity_causes: Items<CauseId, CapacityCause>,
    pub(crate) qualities: Items<QualityId, Quality>,
    pub(crate) stresses: Items<StressId, Stress>,
    pub(crate) roles: Items<RoleId, Role>,
    pub(crate) parts: Items<PartId, Part>,
    pub(crate) efforts: Items<EffortId, Effort>,
    pub(crate) marks: Items<MarkId, Mark>,
    pub(crate) phases: Items<PhaseId, Phase>,
    pub(crate) layouts: Items<LayoutId, Layout>,
    pub(crate) doses: Items<DoseId, Dose>,
    pub(crate) measures: Items<MeasureId, Measure>,
    pub(crate) bars: Items<BarId, Bar>,
    pub(crate) zone_tables: Items<ZoneTableId, ZoneTable>,
    pub(crate) tables: Items<TableId, Table>,
    pub(crate) factors_by_phase: Items<FactorId, FactorByPhase>,
    pub(crate) factors_by_choice: Items<FactorId, FactorByChoice>,
    pub(crate) factors_by_number: Items<FactorId, FactorByNumber>,
    pub(crate) one_of: Items<CaseFieldId, OneOfField>,
    pub(crate) whole: Items<CaseFieldId, WholeField>,
    pub(crate) some_of: Items<CaseFieldId, SomeOfField>,
    pub(crate) dates: Items<CaseFieldId, DateField>,
    pub(crate) groups: Items<GroupId, Group>,
    pub(crate) published: Items<SourceId, PublishedSource>,
    pub(crate) common_practice: Items<SourceId, CommonSource>,
    pub(crate) expert_set: Items<SourceId, ExpertSource>,
    /// How exercises are written; no answer depends on it.
    pub(crate) words: Items<WordId, Word>,
    /// Tests of the method; no answer depends on them.
    pub(crate) tests: Items<RuleTestId, RuleTest>,
    /// Tests of what is measured in tracks; no answer depends on them.
    pub(crate) track_tests: Items<RuleTestId, TrackTest>,
    pub(crate) watched_tests: Items<RuleTestId, WatchedTest>,
    pub(crate) rules: Rules,
}

impl Pack {
    /// The ids of the tests of every kind.
    pub(crate) fn test_ids(&self) -> impl Iterator<Item = &At<RuleTestId>> {
        let (weeks, tracks) = (self.tests.keys(), self.track_tests.keys());
        weeks.chain(tracks).chain(self.watched_tests.keys())
    }

    /// The case field that counts training days; the first where several wrongly do.
    pub(crate) fn counts_training_days(&self) -> Option<(&At<CaseFieldId>, &WholeField)> {
        let mut fields = self.whole.iter();
        fields.find(|(_, field)| field.counts_training_days)
    }

    /// The weeks that a stretch of a block may have: its own, else those of its phase.
    pub(crate) fn weeks_of(&self, stretch: &Stretch) -> Option<Span> {
        let own = stretch.weeks.as_ref().map(|weeks| weeks.value);
        own.or_else(|| Some(self.phases.get(&stretch.phase)?.weeks.value))
    }
}
