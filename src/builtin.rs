//! The built-in method, compiled in as text: every `.yaml` file of the folder `rules`.

/// The same texts as they were read and checked beforehand. A test holds it to them and writes it anew; a form of other texts is
/// not used.
pub(crate) const FORM: &[u8] = include_bytes!("builtin.form");

/// Names and texts of the files, by name.
pub(crate) const FILES: &[(&str, &str)] = &[
    (
        "attempt-fields.yaml",
        include_str!("../rules/attempt-fields.yaml"),
    ),
    ("axes.yaml", include_str!("../rules/axes.yaml")),
    ("bars.yaml", include_str!("../rules/bars.yaml")),
    (
        "case-fields.yaml",
        include_str!("../rules/case-fields.yaml"),
    ),
    ("causes.yaml", include_str!("../rules/causes.yaml")),
    ("complexes.yaml", include_str!("../rules/complexes.yaml")),
    ("doses.yaml", include_str!("../rules/doses.yaml")),
    ("efforts.yaml", include_str!("../rules/efforts.yaml")),
    (
        "exercises-clean.yaml",
        include_str!("../rules/exercises-clean.yaml"),
    ),
    (
        "exercises-jerk.yaml",
        include_str!("../rules/exercises-jerk.yaml"),
    ),
    (
        "exercises-snatch.yaml",
        include_str!("../rules/exercises-snatch.yaml"),
    ),
    (
        "exercises-squat-press-general.yaml",
        include_str!("../rules/exercises-squat-press-general.yaml"),
    ),
    ("factors.yaml", include_str!("../rules/factors.yaml")),
    ("faults.yaml", include_str!("../rules/faults.yaml")),
    ("groups.yaml", include_str!("../rules/groups.yaml")),
    ("judgements.yaml", include_str!("../rules/judgements.yaml")),
    ("layouts.yaml", include_str!("../rules/layouts.yaml")),
    ("marks.yaml", include_str!("../rules/marks.yaml")),
    ("measures.yaml", include_str!("../rules/measures.yaml")),
    (
        "observations.yaml",
        include_str!("../rules/observations.yaml"),
    ),
    ("parts.yaml", include_str!("../rules/parts.yaml")),
    ("phases.yaml", include_str!("../rules/phases.yaml")),
    ("qualities.yaml", include_str!("../rules/qualities.yaml")),
    ("references.yaml", include_str!("../rules/references.yaml")),
    ("reviews.yaml", include_str!("../rules/reviews.yaml")),
    ("roles.yaml", include_str!("../rules/roles.yaml")),
    (
        "rules-causes-limits.yaml",
        include_str!("../rules/rules-causes-limits.yaml"),
    ),
    (
        "rules-causes.yaml",
        include_str!("../rules/rules-causes.yaml"),
    ),
    (
        "rules-doses.yaml",
        include_str!("../rules/rules-doses.yaml"),
    ),
    (
        "rules-drills.yaml",
        include_str!("../rules/rules-drills.yaml"),
    ),
    (
        "rules-floors.yaml",
        include_str!("../rules/rules-floors.yaml"),
    ),
    (
        "rules-lifts.yaml",
        include_str!("../rules/rules-lifts.yaml"),
    ),
    (
        "rules-limits.yaml",
        include_str!("../rules/rules-limits.yaml"),
    ),
    (
        "rules-loads.yaml",
        include_str!("../rules/rules-loads.yaml"),
    ),
    (
        "rules-strength.yaml",
        include_str!("../rules/rules-strength.yaml"),
    ),
    (
        "rules-taste.yaml",
        include_str!("../rules/rules-taste.yaml"),
    ),
    ("rules-time.yaml", include_str!("../rules/rules-time.yaml")),
    (
        "rules-watch-causes.yaml",
        include_str!("../rules/rules-watch-causes.yaml"),
    ),
    (
        "rules-watch-lifts.yaml",
        include_str!("../rules/rules-watch-lifts.yaml"),
    ),
    (
        "rules-watch-strength.yaml",
        include_str!("../rules/rules-watch-strength.yaml"),
    ),
    (
        "rules-weeks.yaml",
        include_str!("../rules/rules-weeks.yaml"),
    ),
    ("signs.yaml", include_str!("../rules/signs.yaml")),
    ("skills.yaml", include_str!("../rules/skills.yaml")),
    (
        "sound-weeks.yaml",
        include_str!("../rules/sound-weeks.yaml"),
    ),
    ("sources.yaml", include_str!("../rules/sources.yaml")),
    ("stresses.yaml", include_str!("../rules/stresses.yaml")),
    ("tables.yaml", include_str!("../rules/tables.yaml")),
    (
        "track-events.yaml",
        include_str!("../rules/track-events.yaml"),
    ),
    (
        "track-filters.yaml",
        include_str!("../rules/track-filters.yaml"),
    ),
    (
        "track-measures.yaml",
        include_str!("../rules/track-measures.yaml"),
    ),
    (
        "track-remarks.yaml",
        include_str!("../rules/track-remarks.yaml"),
    ),
    (
        "training-blocks.yaml",
        include_str!("../rules/training-blocks.yaml"),
    ),
    (
        "week-figures.yaml",
        include_str!("../rules/week-figures.yaml"),
    ),
    ("words.yaml", include_str!("../rules/words.yaml")),
    (
        "zone-tables.yaml",
        include_str!("../rules/zone-tables.yaml"),
    ),
];
