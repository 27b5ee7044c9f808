//! Small packs and cases made at random, in words that mean nothing.
//!
//! The same seed gives the same texts. Kept out is what the description leaves open.

mod days;
pub mod dress;
mod frame;
mod movement;
pub mod random;
mod rules;
mod select;

use random::Random;

/// The ids of a made pack.
#[derive(Clone, Debug, Default)]
pub struct Names {
    pub skills: Vec<String>,
    pub stages: Vec<String>,
    pub references: Vec<String>,
    pub constraints: Vec<String>,
    /// Roots and variations.
    pub simple: Vec<String>,
    pub exercises: Vec<String>,
    pub full_form: String,
    pub training_roots: Vec<String>,
    pub movement_causes: Vec<String>,
    pub capacity_causes: Vec<String>,
    pub observations: Vec<String>,
    pub faults: Vec<String>,
    /// Each skill with a cause that one of its faults has.
    pub behind: Vec<(String, String)>,
    pub qualities: Vec<String>,
    pub stresses: Vec<String>,
    /// Full, mending, plain, light.
    pub roles: Vec<String>,
    pub parts: Vec<String>,
    pub efforts: Vec<String>,
    pub marks: Vec<String>,
    pub phases: Vec<String>,
    pub doses: Vec<String>,
    pub tables: Vec<String>,
    pub zone_table: String,
    pub factors: Vec<String>,
    pub groups: Vec<String>,
    pub choice: String,
    pub choices: Vec<String>,
    pub number: String,
    pub several: String,
    pub severals: Vec<String>,
    pub date: String,
    pub grades: Vec<String>,
    pub measure: String,
}

/// A pack and a case.
#[derive(Clone, Debug)]
pub struct Made {
    pub seed: u64,
    pub files: Vec<(String, String)>,
    pub case: String,
}

/// How a pack is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shape {
    pub days: i64,
    /// Most items in a part.
    pub in_a_part: i64,
    /// Many hard rules.
    pub tight: bool,
}

/// The pack and the case of a seed and an attempt, of whatever size.
///
/// One in five seeds has many hard rules, one in five three days.
pub fn attempt(seed: u64, attempt: u64) -> Made {
    let mut random = Random::new(seed * 1_000 + attempt);
    let mut of_days = Random::new(seed * 1_000 + attempt + 500_000_000);
    let days = if seed % 5 == 4 { 3 } else { 2 };
    let shape = Shape {
        days,
        in_a_part: if days == 3 { 1 } else { random.between(1, 2) },
        tight: tight(seed),
    };
    let (terse, mut case) = draw(&mut random, shape, &days::rules(&mut of_days));
    case.push_str(&days::named(&mut of_days, days));
    Made {
        seed,
        files: dress::files(&terse),
        case,
    }
}

/// Whether the pack of a seed has many hard rules.
pub fn tight(seed: u64) -> bool {
    seed % 5 < 2
}

impl Made {
    /// All texts, for a message.
    pub fn shown(&self) -> String {
        let files: Vec<String> = self
            .files
            .iter()
            .map(|(name, text)| format!("# {name}\n{text}"))
            .collect();
        format!(
            "seed {}\n{}# case.yaml\n{}",
            self.seed,
            files.concat(),
            self.case
        )
    }
}

fn draw(random: &mut Random, shape: Shape, of_days: &[(&'static str, String)]) -> (String, String) {
    let mut names = Names {
        movement_causes: random.words(3),
        capacity_causes: random.words(1),
        stages: random.words(5),
        skills: random.words(2),
        references: random.words(2),
        qualities: random.words(3),
        stresses: random.words(2),
        roles: random.words(4),
        parts: random.words(2),
        efforts: random.words(2),
        marks: random.words(2),
        phases: random.words(2),
        doses: random.words(3),
        tables: random.words(2),
        zone_table: random.word(),
        factors: random.words(3),
        groups: random.words(2),
        choice: random.word(),
        choices: random.words(2),
        number: random.word(),
        several: random.word(),
        severals: random.words(2),
        date: random.word(),
        grades: random.words(2),
        observations: random.words(2),
        faults: random.words(2),
        measure: random.word(),
        ..Names::default()
    };
    let mut text = movement::exercises(random, &mut names);
    text.push_str(&movement::diagnosis(random, &mut names));
    text.push_str(&frame::frame(random, &names, shape));
    text.push_str(&frame::loads(random, &names));
    text.push_str(&frame::fields(&names));
    text.push_str("groups:\n");
    for group in &names.groups {
        let about = *random.one(&[select::About::Exercise, select::About::Placed]);
        text.push_str(&format!(
            "  {group}: {{what: {}}}\n",
            select::flat(random, &names, about)
        ));
    }
    text.push_str(&rules::rules(random, &names, shape, of_days));
    let case = frame::case(random, &names);
    // Behind the rest, so that what was made of a seed before stays as it was.
    text.push_str(&rules::how_often(random, &names));
    text.push_str(&rules::of_the_week_before(random, &names));
    (text, case + &frame::week_before(random, &names))
}
