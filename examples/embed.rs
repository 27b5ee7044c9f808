//! The library in another program: put a case together, solve it, walk the week, ask why.

use drillwright::{Answer, KnowledgeBase};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let base = KnowledgeBase::builtin()?;
    // An invented lifter.
    let case = base
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
    let plan = match base.solve(&case)? {
        Answer::Week(plan) => plan,
        other => {
            println!("{}", other.text(drillwright::report::Layout::new()));
            return Ok(());
        }
    };
    for session in &plan.sessions {
        println!(
            "day {}, {}, {} minutes",
            session.day,
            session.effort,
            session.minutes()
        );
        for item in &session.items {
            let load = match &item.load {
                Some(load) => format!("{} to {} {}", load.low, load.high, load.unit),
                None => item.feel.clone(),
            };
            println!("  {}: {} x {}, {load}", item.name, item.sets, item.reps);
            println!("    {}", plan.why(item));
        }
    }
    // All that led to the first item, with the rules and sources that it rests on.
    let first = plan
        .sessions
        .iter()
        .flat_map(|session| &session.items)
        .next();
    if let Some(item) = first {
        println!("\nwhy {}:", item.name);
        for line in plan.derivation(item) {
            println!("  {line}");
        }
    }
    // Anyone can hold the week against the rules again, without the search.
    let checked = base.recheck(&case, &plan)?;
    println!("\nconfirmed by the re-check: {}", checked.confirms(&plan));
    Ok(())
}
