//! The open model against the search: solved by a solver that knows nothing of either, its optimum
//! is what the crate says of the best week.

use std::collections::BTreeMap;

use drillwright::explain::{Level, Missed};
use drillwright::{Aim, Case, ErrorKind, KnowledgeBase};
use microlp::{ComparisonOp, Error, OptimizationDirection, Problem, SolveOutcome};

use crate::oracle::crate_says::{Said, solved};
use crate::oracle::sized::make;

/// Packs that are made; `PACKS=n` in the environment makes more.
const PACKS: u64 = 80;

/// Columns by name: least, most, whole, cost.
#[derive(Debug, Default, PartialEq)]
struct Column {
    low: i64,
    high: Option<i64>,
    whole: bool,
    cost: i64,
}

/// Lines by name: sense, amount, terms.
#[derive(Debug, Default, PartialEq)]
struct Line {
    sense: String,
    amount: i64,
    terms: BTreeMap<String, i64>,
}

/// A model as its text says it.
#[derive(Debug, Default, PartialEq)]
struct Read {
    columns: BTreeMap<String, Column>,
    lines: BTreeMap<String, Line>,
}

fn read_mps(text: &str) -> Read {
    let mut read = Read::default();
    let (mut section, mut whole) = ("", false);
    for line in text.lines().filter(|line| !line.starts_with('*')) {
        let words: Vec<&str> = line.split_whitespace().collect();
        if !line.starts_with(' ') {
            section = words[0];
            continue;
        }
        let amount = |at: usize| words[at].parse::<i64>().unwrap();
        match (section, words[0]) {
            ("ROWS", "N") => {}
            ("ROWS", sense) => {
                let line = Line {
                    sense: sense.to_owned(),
                    ..Line::default()
                };
                let known = read.lines.insert(words[1].to_owned(), line);
                assert_eq!(
                    known,
                    None,
                    "two lines of one name: {line:?}",
                    line = words[1]
                );
            }
            ("COLUMNS", _) if words[1] == "'MARKER'" => whole = words[2] == "'INTORG'",
            ("COLUMNS", name) => {
                let column = read.columns.entry(name.to_owned()).or_default();
                column.whole = whole;
                match read.lines.get_mut(words[1]) {
                    Some(line) => {
                        let known = line.terms.insert(name.to_owned(), amount(2));
                        assert_eq!(known, None, "{name} twice in {}", words[1]);
                    }
                    None => column.cost = amount(2),
                }
            }
            ("RHS", _) => read.lines.get_mut(words[1]).unwrap().amount = amount(2),
            ("BOUNDS", kind) => {
                let column = read.columns.get_mut(words[2]).unwrap();
                match kind {
                    "BV" => column.high = Some(1),
                    "FX" => (column.low, column.high) = (amount(3), Some(amount(3))),
                    "LO" => column.low = amount(3),
                    "UP" => column.high = Some(amount(3)),
                    "PL" => {}
                    _ => panic!("{line}"),
                }
            }
            _ => panic!("{line}"),
        }
    }
    read
}

/// LP text as [`read_mps`] gives the same model, costs turned round where they are made large.
fn read_lp(text: &str) -> Read {
    let mut read = Read::default();
    let (mut section, mut sign, mut name) = ("", 1, String::new());
    let heads = [
        "Minimize",
        "Maximize",
        "Subject To",
        "Bounds",
        "Binaries",
        "Generals",
        "End",
    ];
    let mut bounds = Vec::new();
    for line in text.lines().filter(|line| !line.starts_with('\\')) {
        if heads.contains(&line) {
            section = line;
            sign = if line == "Maximize" { -1 } else { sign };
            continue;
        }
        let mut words: Vec<&str> = line.split_whitespace().collect();
        match section {
            "Minimize" | "Maximize" | "Subject To" => {
                if let Some(head) = words[0].strip_suffix(':') {
                    name = head.to_owned();
                    words.remove(0);
                }
                let mut rest = words.as_slice();
                while let [sign_of, times, column, ..] = rest
                    && matches!(*sign_of, "+" | "-")
                {
                    let times: i64 = times.parse().unwrap();
                    let times = if *sign_of == "-" { -times } else { times };
                    if name == "OBJ" {
                        read.columns.entry((*column).to_owned()).or_default().cost = sign * times;
                    } else {
                        read.columns.entry((*column).to_owned()).or_default();
                        let line = read.lines.entry(name.clone()).or_default();
                        line.terms.insert((*column).to_owned(), times);
                    }
                    rest = &rest[3..];
                }
                if let [sense, amount] = rest {
                    let line = read.lines.entry(name.clone()).or_default();
                    line.sense = match *sense {
                        "<=" => "L",
                        ">=" => "G",
                        _ => "E",
                    }
                    .to_owned();
                    line.amount = amount.parse().unwrap();
                }
            }
            "Bounds" => bounds.push(words.iter().map(ToString::to_string).collect::<Vec<_>>()),
            _ => {
                let column = read.columns.entry(words[0].to_owned()).or_default();
                column.whole = true;
                if section == "Binaries" {
                    column.high = Some(1);
                }
            }
        }
    }
    for words in bounds {
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let number = |word: &str| word.parse::<i64>().unwrap();
        let (name, low, high) = match words.as_slice() {
            [low, "<=", name, "<=", high] => (name, number(low), Some(number(high))),
            [name, "=", both] => (name, number(both), Some(number(both))),
            [name, ">=", low] => (name, number(low), None),
            _ => panic!("{words:?}"),
        };
        let column = read.columns.entry((*name).to_owned()).or_default();
        (column.low, column.high) = (low, high);
    }
    read
}

/// More units than a small week can miss.
const MANY: i32 = 100_000;

impl Read {
    /// The least cost, by a solver of linear models; none where nothing satisfies the lines.
    fn least(&self) -> Option<i64> {
        // Large costs beside small tolerances are what it does worst.
        let scale = self.columns.values().map(|column| column.cost.abs()).max();
        let scale = scale.unwrap_or(1).max(1) as f64;
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let mut variables = BTreeMap::new();
        for (name, column) in &self.columns {
            let cost = column.cost as f64 / scale;
            let high = column
                .high
                .map_or(MANY, |high| i32::try_from(high).unwrap());
            let low = i32::try_from(column.low).unwrap();
            let variable = if column.whole {
                problem.add_integer_var(cost, (low, high))
            } else {
                problem.add_var(cost, (low.into(), high.into()))
            };
            variables.insert(name.as_str(), variable);
        }
        for line in self.lines.values() {
            let terms: Vec<_> = line
                .terms
                .iter()
                .map(|(name, times)| (variables[name.as_str()], *times as f64))
                .collect();
            let sense = match line.sense.as_str() {
                "L" => ComparisonOp::Le,
                "G" => ComparisonOp::Ge,
                _ => ComparisonOp::Eq,
            };
            problem.add_constraint(terms, sense, line.amount as f64);
        }
        let solution = match problem.solve() {
            Err(Error::Infeasible) => return None,
            Ok(SolveOutcome::Solution(solution)) => solution,
            other => panic!("{other:?}"),
        };
        // Floats found it; whole numbers say what it is.
        let values: BTreeMap<&str, i64> = variables
            .iter()
            .map(|(name, variable)| (*name, solution.var_value(*variable).round() as i64))
            .collect();
        for (name, line) in &self.lines {
            let total: i64 = line
                .terms
                .iter()
                .map(|(of, n)| n * values[of.as_str()])
                .sum();
            let holds = match line.sense.as_str() {
                "L" => total <= line.amount,
                "G" => total >= line.amount,
                _ => total == line.amount,
            };
            assert!(holds, "{name}: {total}, {line:?}");
        }
        let cost = self
            .columns
            .iter()
            .map(|(of, c)| c.cost * values[of.as_str()]);
        Some(cost.sum())
    }
}

fn read_pack(files: &[(String, String)], case: &str) -> (KnowledgeBase, Case) {
    let files = files.iter().map(|(name, text)| (name, text));
    let base = KnowledgeBase::from_texts(files).unwrap_or_else(|error| panic!("{error}"));
    let case = base.case_from_text("case.yaml", case).unwrap();
    (base, case)
}

/// What the open models of a pack come to, as the crate words it: units by level, and worth.
fn opened(base: &KnowledgeBase, case: &Case) -> Option<([i64; 3], i64)> {
    let least = |aim: Aim| {
        let model = base.open_model(case, aim).unwrap();
        let least = read_mps(&model.mps()).least();
        if model.seeks_worth() {
            least.map(|cost| -cost)
        } else {
            least
        }
    };
    let mut missed = [0; 3];
    for (at, level) in [Level::Last, Level::Middle, Level::First]
        .into_iter()
        .enumerate()
    {
        missed[at] = least(Aim::Fewest(level, missed.into()))?;
    }
    let worth = least(Aim::Worth(missed.into())).expect("a week that misses as much");
    Some((missed, worth))
}

#[test]
fn its_optimum_is_the_week_that_the_search_finds() {
    let (mut weeks, mut none, mut missing, mut ordered) = (0, 0, 0, 0);
    let packs = std::env::var("PACKS").map_or(PACKS, |packs| packs.parse().unwrap());
    // Those that the oracle is held against, too: all of them can be read.
    for seed in 1_000..1_000 + packs {
        let made = make(seed);
        let (base, case) = read_pack(&made.files, &made.case);
        let open = opened(&base, &case);
        match solved(&made.files, &made.case) {
            Said::Week { missed, worth, .. } => {
                assert_eq!(open, Some((missed, worth)), "seed {seed}\n{}", made.shown());
                weeks += 1;
                missing += i64::from(missed != [0; 3]);
            }
            Said::None => {
                assert_eq!(open, None, "seed {seed}\n{}", made.shown());
                none += 1;
            }
            Said::NotFound(nodes) => panic!("seed {seed}: nothing in {nodes}"),
        }
        let model = base
            .open_model(&case, Aim::Worth(Missed::default()))
            .unwrap();
        ordered += i64::from(model.mps().contains("\n y_d"));
    }
    // Otherwise little is held against anything.
    let counts = format!(
        "{weeks} weeks, {missing} that miss something, {none} without, {ordered} with orders"
    );
    assert!(
        weeks >= 40 && missing >= 30 && none >= 10 && ordered >= 12,
        "{counts}"
    );
}

#[test]
fn both_texts_say_the_same() {
    for name in ["three-days-half-an-hour", "last-week-3-days"] {
        let base = &*crate::corpus::BASE;
        let text = crate::corpus::named_text(name);
        let case = base.case_from_text(name, &text).unwrap();
        for aim in [
            Aim::Worth(Missed::from([0, 2, 1])),
            Aim::Fewest(Level::Middle, Missed::from([1, 0, 0])),
        ] {
            let model = base.open_model(&case, aim).unwrap();
            let (mps, lp) = (model.mps(), model.lp());
            let read = read_mps(&mps.replace('-', ".").replace(" .", " -"));
            assert_eq!(read, read_lp(&lp), "{name}");
            assert_eq!(read.columns.len(), model.columns());
            assert_eq!(read.lines.len(), model.lines());
            let again = base.open_model(&case, aim).unwrap();
            assert_eq!((mps, lp), (again.mps(), again.lp()));
        }
    }
}

#[test]
fn nothing_is_missed_on_the_level_never() {
    let base = &*crate::corpus::BASE;
    let case = base.case().phase("last-week").build().unwrap();
    let error = base
        .open_model(&case, Aim::Fewest(Level::Never, Missed::default()))
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Unknown);
}
