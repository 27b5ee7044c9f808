//! The library in another program: put a case together, solve it, walk the week, ask why.

use drillwright::report::Layout;
use drillwright::{Answer, KnowledgeBase, Plan};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    // Read once; a clone shares it, and any number of threads may ask.
    let rules = KnowledgeBase::builtin()?;

    // An invented lifter. Ids are plain text; whatever is wrong is told at `build`, all at once.
    let case = rules
        .case()
        .lifter("lifter A (invented)")
        .phase("general")
        .fault("saved-backward", "one-step")
        .observed("hip-bang-heard")
        .best("best-snatch", "90")
        .best("best-clean-and-jerk", "112")
        .best("best-back-squat", "150")
        .field("days", "3")
        .field("minutes", "75")
        .build()?;

    // That there is no week, or that none was found in time, is an answer and no error.
    let plan = match rules.solve(&case)? {
        Answer::Week(plan) => plan,
        other => {
            print!("{}", other.text(Layout::new()));
            return Ok(());
        }
    };
    walk(&plan);
    ask_why(&plan);

    // Anyone can hold the week against the rules again, without the search.
    let checked = rules.recheck(&case, &plan)?;
    println!("\nconfirmed by the re-check: {}", checked.confirms(&plan));
    Ok(())
}

/// Every line of the week, with its load or how it should feel, and the sentence that says why.
fn walk(plan: &Plan) {
    println!("{}: {} repetitions", plan.lifter, plan.lifts);
    for session in &plan.sessions {
        println!(
            "\nday {}, {}, {} minutes",
            session.day,
            session.effort,
            session.minutes()
        );
        for item in &session.items {
            // Numbers are exact decimals: a load is what bar, collars and pieces make.
            let load = match &item.load {
                Some(load) => format!(
                    "{} to {} {}, {} to {} % of {}",
                    load.low, load.high, load.unit, load.percent.0, load.percent.1, load.of
                ),
                None => item.feel.clone(),
            };
            println!("  {}: {} x {}, {load}", item.name, item.sets, item.reps);
            println!("    {}", plan.why(item));
        }
    }
    for said in &plan.cautions {
        println!("\ncare: {} ({})", said.words, said.place);
    }
}

/// All that led to the first line of the week, with the rules and sources that it rests on, and
/// what gave way anywhere.
fn ask_why(plan: &Plan) {
    let mut items = plan.sessions.iter().flat_map(|session| &session.items);
    if let Some(item) = items.next() {
        println!("\nwhy {}:", item.name);
        for fact in plan.derivation(item) {
            println!("  {fact}");
        }
    }
    for missed in &plan.shortfalls {
        println!(
            "{} ({}) is missed by {}",
            missed.ruling, missed.place, missed.units
        );
    }
}
