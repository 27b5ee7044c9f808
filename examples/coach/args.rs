//! What can be said on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use drillwright::Work;
use drillwright::base::Weekday;

/// From a stated fault to a training week that is best under rules anyone can
/// read, with the reason for every line.
///
/// Without a command: the week of a built-in case, an invented lifter.
///
/// Exit status: 0 answered, 1 no week satisfies the hard rules or a test of
/// the rules fails, 2 bad input, 3 none found within the limit of work.
#[derive(Parser)]
#[command(name = "coach", version, next_line_help = true, verbatim_doc_comment)]
pub struct Cli {
    #[command(subcommand)]
    pub command: Option<Command>,
    #[command(flatten)]
    pub common: Common,
}

#[derive(Args)]
pub struct Common {
    /// A folder of rule files in place of the built-in ones.
    #[arg(long, value_name = "DIR", global = true)]
    pub rules: Option<PathBuf>,
    /// How the answer is written.
    #[arg(long = "as", value_enum, default_value_t = Form::Text, global = true)]
    pub form: Form,
    /// How much is said of the reasons of a week.
    #[arg(long, value_enum, default_value_t = Depth::Brief, global = true)]
    pub reasons: Depth,
    /// Writes out the lighter sets before each exercise of a week.
    #[arg(long, global = true)]
    pub ramp: bool,
    /// The most nodes that the search for a week may take.
    #[arg(long, value_name = "NUMBER", global = true)]
    pub nodes: Option<u64>,
}

impl Common {
    /// How much a search may do.
    pub fn work(&self) -> Work {
        self.nodes.map_or_else(Work::default, Work::nodes)
    }
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For people.
    Text,
    /// For programs.
    Json,
    /// `week` alone: a model for other solvers, in free MPS.
    Mps,
    /// `week` alone: the same as LP text.
    Lp,
    /// `see`, `review`, `track`: what follows from it, as a case file.
    Case,
}

impl Form {
    /// Whether a model for solvers is asked for, and no answer.
    pub fn is_model(self) -> bool {
        matches!(self, Self::Mps | Self::Lp)
    }
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Seek {
    /// Fewest units missed by rules that give way last.
    Last,
    /// Fewest by rules in the middle, the last ones held.
    Middle,
    /// Fewest by rules that give way first, all others held.
    First,
    /// Most worth, all that gives way held.
    Worth,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Depth {
    /// One sentence for each line.
    Brief,
    /// All that led to it, with rules, places and sources.
    Full,
}

#[derive(Subcommand)]
pub enum Command {
    /// The best week for a case, from a file or from flags.
    Week(Box<WeekArgs>),
    /// What watched attempts say: faults, causes, what to look at next.
    See(SeeArgs),
    /// What a tracked bar path says: measures, events, looks, a drawing.
    Track(Box<TrackArgs>),
    /// What a written week comes to: what it does, lacks and clashes with.
    Audit(AuditArgs),
    /// Weeks in a row: phase by phase, each the best after the one before.
    Block(BlockArgs),
    /// What a training log says: keep a drill, move along, swap, look again.
    Review(ReviewArgs),
    /// Checks a folder of rule files and prints every problem.
    Check(CheckArgs),
    /// The faults that the rules know, with their grades and causes.
    Faults,
    /// The exercises; with a fault what helps, ranked, and why.
    Exercises(ExercisesArgs),
    /// An exercise as you would write it down: how it is read, and what it is.
    Name(NameArgs),
    /// From a drill to the full lift, one constraint freed at a time.
    Ladder(LadderArgs),
    /// What is asked of the rules themselves.
    #[command(subcommand)]
    Rules(RulesCommand),
    /// The JSON Schema of a document, a case file or a kind of rule file.
    Schema(SchemaArgs),
}

#[derive(Args)]
pub struct WeekArgs {
    /// A case file; flags add what it does not say.
    #[arg(value_name = "CASE.yaml")]
    pub case: Option<PathBuf>,
    /// Watched attempts, whose findings are part of the case; repeatable.
    #[arg(long, value_name = "FILE.yaml")]
    pub seen: Vec<PathBuf>,
    /// What a model seeks; needed where something gives way.
    #[arg(long, value_enum)]
    pub seek: Option<Seek>,
    /// A day trained as the week has it: `monday`, or 1 to 7; repeatable.
    #[arg(long, value_name = "DAY", value_parser = day)]
    pub done: Vec<u8>,
    /// A day of the week that was missed: `monday`, or 1 to 7; repeatable.
    #[arg(long, value_name = "DAY", value_parser = day)]
    pub missed: Vec<u8>,
    /// Put together variations that nobody listed, within the rules.
    #[arg(long)]
    pub compose: bool,
    /// A label for the sheet; it decides nothing.
    #[arg(long, value_name = "LABEL")]
    pub lifter: Option<String>,
    /// The day from which dates are counted, as YYYY-MM-DD.
    #[arg(long, value_name = "DATE")]
    pub today: Option<String>,
    /// A fault that was seen; may stand several times, each with a grade.
    #[arg(long, value_name = "ID", requires = "grade")]
    pub fault: Vec<String>,
    /// The grade of each fault, in the same order.
    #[arg(long, value_name = "ID", requires = "fault")]
    pub grade: Vec<String>,
    /// The skill of the faults: once for all, or once for each.
    #[arg(long, value_name = "ID", requires = "fault")]
    pub skill: Vec<String>,
    /// What else was looked at and was true; may stand several times.
    #[arg(long, value_name = "ID")]
    pub observed: Vec<String>,
    /// A cause the coach is sure of; may stand several times.
    #[arg(long, value_name = "ID[=SKILL]")]
    pub sure_of: Vec<String>,
    /// Phase of training.
    #[arg(long, value_name = "ID")]
    pub phase: Option<String>,
    /// Training days a week.
    #[arg(long, value_name = "NUMBER")]
    pub days: Option<String>,
    /// Minutes a session.
    #[arg(long, value_name = "NUMBER")]
    pub minutes: Option<String>,
    /// A day that is trained, with its minutes if it has its own, such as
    /// `monday` or `saturday=120`; repeatable, in the order of the week.
    #[arg(long, value_name = "DAY[=MINUTES]", verbatim_doc_comment)]
    pub on: Vec<String>,
    /// The lifter's level.
    #[arg(long, value_name = "ID")]
    pub level: Option<String>,
    /// A best, as `best-snatch=90`, or `best-snatch=90@DATE`; repeatable.
    #[arg(long, value_name = "ID=LOAD", value_parser = pair)]
    pub best: Vec<(String, String)>,
    /// An exercise new to the lifter, by id or name; may stand several times.
    #[arg(long, value_name = "EXERCISE")]
    pub new: Vec<String>,
    /// An exercise that the lifter dislikes; may stand several times.
    #[arg(long, value_name = "EXERCISE")]
    pub disliked: Vec<String>,
    /// What was tried: `better`, `learned`, `same` or `worse`; repeatable.
    #[arg(long, value_name = "EXERCISE=CAME", value_parser = pair)]
    pub tried: Vec<(String, String)>,
    /// An exercise of the week before; may stand several times.
    #[arg(long, value_name = "EXERCISE")]
    pub did_last_week: Vec<String>,
    /// The bar of the gym.
    #[arg(long, value_name = "ID")]
    pub bar: Option<String>,
    /// A bar that is there too, for what is too light for that; repeatable.
    #[arg(long, value_name = "ID")]
    pub other_bar: Vec<String>,
    /// A field, as `limits=wrist,knee`, or `equipment=` for none; repeatable.
    #[arg(long, value_name = "ID=VALUE", value_parser = field)]
    pub field: Vec<(String, String)>,
}

#[derive(Args)]
pub struct SeeArgs {
    /// A file of watched attempts (`rules/README.md`, 14).
    #[arg(value_name = "FILE.yaml")]
    pub watched: PathBuf,
}

#[derive(Args)]
pub struct TrackArgs {
    /// Rows of time and place of one lift (`rules/README.md`, 18).
    #[arg(value_name = "FILE.csv")]
    pub file: PathBuf,
    /// What was lifted: `snatch`, `clean` or `jerk`.
    #[arg(long, value_name = "ID")]
    pub skill: String,
    /// To which side of the picture the lifter faces: `left`, `right`.
    #[arg(long, value_name = "SIDE")]
    pub facing: String,
    /// The unit of places: `m`, `cm`, `mm`, `px`; or in the head's brackets.
    #[arg(long, value_name = "UNIT")]
    pub unit: Option<String>,
    /// How large a picture point is, in mm: 450 by a disc's points.
    #[arg(long, value_name = "MM")]
    pub scale: Option<String>,
    /// Which way heights grow: `up`; `down` for rows from the top.
    #[arg(long, value_name = "WAY")]
    pub up_is: Option<String>,
    /// The column of times; `time` or `t` where nothing is said.
    #[arg(long, value_name = "COLUMN")]
    pub time: Option<String>,
    /// The column of places across; `horizontal` or `x`.
    #[arg(long, value_name = "COLUMN")]
    pub across: Option<String>,
    /// The column of heights; `vertical` or `y`.
    #[arg(long, value_name = "COLUMN")]
    pub up: Option<String>,
    /// The unit of times: `s` or `ms`.
    #[arg(long, value_name = "UNIT")]
    pub time_in: Option<String>,
    /// The number in the column of heights that is the platform.
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub ground: Option<String>,
    /// How tall the lifter is, in cm.
    #[arg(long, value_name = "CM")]
    pub height: Option<String>,
    /// How far the feet moved, in mm; forward positive.
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub feet: Option<i64>,
    /// A measure that was taken otherwise; repeatable.
    #[arg(long, value_name = "ID=NUMBER", value_parser = measured)]
    pub measured: Vec<(String, i64)>,
    /// Draws the path into this file.
    #[arg(long, value_name = "OUT.svg")]
    pub svg: Option<PathBuf>,
}

#[derive(Args)]
pub struct AuditArgs {
    /// A week: under each day lines such as `snatch 5x2 75%`.
    #[arg(value_name = "WEEK.yaml")]
    pub week: PathBuf,
    /// A case file.
    #[arg(value_name = "CASE.yaml")]
    pub case: PathBuf,
}

#[derive(Args)]
pub struct ReviewArgs {
    /// A training log, CSV or YAML (`rules/README.md`, 17).
    #[arg(value_name = "LOG")]
    pub log: PathBuf,
    /// The case file that the log followed.
    #[arg(value_name = "CASE.yaml")]
    pub case: PathBuf,
    /// The day from which the next case counts, as YYYY-MM-DD.
    #[arg(long, value_name = "DATE")]
    pub today: Option<String>,
}

#[derive(Args)]
pub struct CheckArgs {
    /// The folder.
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}

#[derive(Args)]
pub struct ExercisesArgs {
    /// A fault: exercises are ranked by what they do for its causes.
    #[arg(long, value_name = "ID")]
    pub fault: Option<String>,
    /// A skill: of the fault, or the one whose exercises are listed.
    #[arg(long, value_name = "ID")]
    pub skill: Option<String>,
    /// An exercise, by id or name: it and all that vary it.
    #[arg(long, value_name = "EXERCISE", conflicts_with_all = ["fault", "skill"])]
    pub under: Option<String>,
}

#[derive(Args)]
pub struct NameArgs {
    /// Words in any order; `+` between movements, `2+1` for how often each.
    #[arg(value_name = "TEXT", required = true, num_args = 1..)]
    pub text: Vec<String>,
}

#[derive(Args)]
pub struct LadderArgs {
    /// The drill, by id or as you would write it down.
    #[arg(value_name = "EXERCISE")]
    pub exercise: String,
    /// The cause that it works against: what does is freed last.
    #[arg(long, value_name = "ID")]
    pub cause: Option<String>,
}

#[derive(Subcommand)]
pub enum RulesCommand {
    /// Runs the tests that stand beside the rules of a folder, in files of the kind `cases`.
    Test(RuleTestArgs),
}

#[derive(Args)]
pub struct RuleTestArgs {
    /// The folder.
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
    /// One test alone.
    #[arg(long, value_name = "NAME")]
    pub only: Option<String>,
}

#[derive(Args)]
pub struct BlockArgs {
    /// The case as a file.
    #[arg(value_name = "CASE.yaml")]
    pub case: PathBuf,
    /// How many weeks; where absent as many as there are to the meet.
    #[arg(long, value_name = "NUMBER")]
    pub weeks: Option<u16>,
}

#[derive(Args)]
pub struct SchemaArgs {
    /// A document or a kind of rule file: `week`, `case`, `exercises`, ...
    #[arg(value_name = "KIND")]
    pub kind: String,
}

/// Two words with `=` between them.
fn pair(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((id, value)) if !id.is_empty() && !value.is_empty() => {
            Ok((id.to_owned(), value.to_owned()))
        }
        _ => Err(String::from("write an id, `=`, and a value")),
    }
}

/// The same with a whole number behind the `=`.
fn measured(text: &str) -> Result<(String, i64), String> {
    let (id, value) = pair(text)?;
    let value = value
        .parse()
        .map_err(|_| String::from("write a whole number behind the `=`"))?;
    Ok((id, value))
}

/// The same, or nothing behind the `=`: a field of many values that has none.
fn field(text: &str) -> Result<(String, String), String> {
    match text.strip_suffix('=') {
        Some(id) if !id.is_empty() => Ok((id.to_owned(), String::new())),
        _ => pair(text),
    }
}

/// A day of the week by its word or its number.
fn day(text: &str) -> Result<u8, String> {
    match text.parse::<u8>() {
        Ok(number @ 1..=7) => Ok(number),
        Ok(_) => Err(String::from("days are numbered 1 (Monday) to 7")),
        Err(_) => text
            .parse::<Weekday>()
            .map(Weekday::number)
            .map_err(|bad| bad.to_string()),
    }
}
