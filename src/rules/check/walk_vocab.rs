//! The walk over the vocabulary.

use crate::rules::vocab::{
    AttemptChoice, AttemptNumber, AttemptTest, AttemptValue, Axis, Bar, BestFrom, Came,
    CapacityCause, Channel, CommonSource, Complex, Component, Condition, Constraint, Counted,
    DateField, DayFilter, Decides, Dose, Effort, Estimate, ExpertSource, FactorByChoice,
    FactorByNumber, FactorByPhase, FactorStep, Fault, FieldTest, FigureRange, Find, Form, Formula,
    Gate, Grade, Group, Help, Holds, IfUnknown, Instead, Judgement, Layout, LayoutDay, Mark,
    Measure, Measured, MovementCause, Names, Observation, OneOfField, Part, Phase, Piece,
    PublishedSource, Quality, ReadAs, Reference, ReviewDecision, ReviewWindow, Role, Root,
    Rounding, SeenWhere, Selector, Share, ShareTest, Sign, Skill, Slot, SomeOfField, SoundWeek,
    Span, Stated, Step, Stress, Stretch, Table, Take, TrackEvent, TrackFilter, TrackMeasure,
    TrackRemark, TrackTake, TrackUnit, TrainingBlock, TrendTest, Variation, Wave, WaveWeek,
    WeekFigure, WholeField, Word, Yields, Zone, ZoneTable,
};

use super::walk::{Placed, Spot, Visit, Walk, plain, walk};

plain!(
    Counted, Yields, IfUnknown, Holds, Form, Help, Rounding, ReadAs, Came, Decides, Formula,
    Channel, Find, Take, TrackUnit,
);

walk! {
    Names: names { en, formerly }
    Condition: condition {
        case, phase, faults, demand, focus_causes, focus_skills, known_best, best_age, all, any,
        none,
    }
    FieldTest: test { is, is_not, has, has_none, at_least, at_most, known }
    Selector: selector {
        everything, exercises, under, skills, groups, with_any, with_all, with_none, unconstrained, departing, strong,
        departure, stages_all, stages_none, full, case_of_skill, in_focus, shows, alone, reps_in_complex,
        best_effect_on_focus, worst_effect_on_focus, helps, trains, new, disliked, tried, like_tried, did_last_week,
        weeks_in_a_row, further_than_before, roles, parts, efforts, percent, any, not,
    }
    DayFilter: days { efforts, marks, without_marks, eve_of, case_of_day }
    Group { names, says, what, source }

    Skill { names, stages, reference, source }
    Axis { names, holds, unset, constraints }
    Constraint {
        names, effect, cuts, departs, strong, load_percent, during, not_with, behind_others, trains, stress, asks,
        because, source,
    }
    Word { write, means, joins, source }
    Root {
        names, skills, form, reference, highest, with, trains, stress, effect, roles, asks, used_for as "use", source,
    }
    Stated { percent, source }
    Variation {
        names, from, with, drops, reference, highest, trains, stress, effect, roles, asks, used_for as "use", because,
        source,
    }
    Complex { names, components, roles, percent_less, trains, stress, asks, used_for as "use", source }
    Component { exercise as "do", reps, with }

    Fault { names, skills, aspect, grades, causes, onset, not_to_confuse, because, source }
    Grade { severity, says }
    Share { percent, raised_by, ruled_out_by }
    MovementCause { names, look_for, stages, develops, opposes, told_apart_by, because, source }
    CapacityCause { names, look_for, served_by, because, source }
    Observation { names, look, measured, source }
    Measured { by, is }
    TrackMeasure { names, unit, means, of, source }
    TrackTake { skills, take, channel, from, to, against, band, stood, turned, unit }
    TrackEvent { names, skills, find, channel, than, against, after, before, only_helps, means, source }
    TrackFilter { skills, cutoff_tenth_hertz, gap_ms_at_most, rows_a_second_at_least, because, source }
    TrackRemark { skills, when, says, because, source }
    Quality { names, means, counts_when, source }
    AttemptChoice { names, asks, skills, values, source }
    AttemptValue { names, implies, went_wrong }
    AttemptNumber { names, asks, skills, unit, from, to, source }
    Sign { skills, seen, unless, fault, grade, look, in_percent_at_least, sound_ones_too, because, source }
    SoundWeek {
        last_more_at_most, middle_more_at_most, first_more_at_most, worth_percent_at_least, because, source,
    }
    AttemptTest { is, at_least, at_most }
    TrainingBlock { names, when, weeks, ends_on, stretches, because, source }
    Stretch { phase, weeks, percent, wave }
    Wave { field, weeks }
    WaveWeek { is }
    WeekFigure { names, means, what, counted, share_of, drawn, ranges, source }
    FigureRange { from, to, because, source }
    Judgement {
        skills, attempts_at_least, fault_seen_at_least, fault_percent_at_least, grade_seen_at_least,
        look_seen_at_least, look_percent_at_least, sound_below_onset_at_least, because, source,
    }

    ReviewWindow { interval_percent, last_weeks, first_weeks, because, source }
    ReviewDecision {
        rank, decides, full, exercise, full_in_all, exercise_in_all, full_trend, exercise_trend, came, say, because,
        source,
    }
    ShareTest {
        repetitions_at_least, weeks_at_least, low_at_least, low_at_most, high_at_least, high_at_most, share_at_least,
        share_at_most,
    }
    TrendTest { falls_at_least, rises_at_least, apart }
    SeenWhere { faults, stages, because, source }
    BestFrom { reference, exercises, because, source }
    Estimate { formula, references, repetitions_at_most, round_to, becomes_best, because, source }

    Phase { names, weeks, then, because, source }
    Layout { names, when, days, because, source }
    LayoutDay { day, effort, marks, parts }
    Slot { part, at_least, at_most, yields }
    Effort { names, sets_at_percent, reps_at_percent, load_from_percent, load_to_percent, source }
    Part { names, roles, what }
    Role { names, says, help, trains_percent, stress_percent, gate, source }
    Gate { full_form, skill_in_focus, best_effect_on_focus, worst_effect_on_focus }
    Table { below_zero, steps, because, source }
    Step { to, each }
    FactorByPhase { percents, source }
    FactorByChoice { field, percents, source }
    FactorByNumber { field, steps, source }
    FactorStep { from, percent }
    Stress { names, means, source }
    Mark { names, means }

    Span { from, to }
    Dose { sets, reps, percent_of_reference, rest_seconds, set_seconds, feel, because, source }
    Reference { names, instead, source }
    Instead { from, percent, source }
    Measure { unit, pieces, in_pairs, round, source }
    Piece { weight, full_diameter, colour }
    Bar { names, measure, weight, collar, source }
    ZoneTable { names, made_for, zones, source }
    Zone { percent, reps_per_set, total, best_total }

    OneOfField { names, values, if_missing, by_skill }
    WholeField { names, unit, from, to, if_missing, counts_training_days, by_day, source }
    SomeOfField { names, values, if_missing }
    DateField { names }

    PublishedSource { cite, read }
    CommonSource { note }
    ExpertSource { by, date, note }
}
