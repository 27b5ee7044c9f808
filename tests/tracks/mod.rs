//! Tracks: known curves, noise, published means, other ways of writing, the drawing.

mod broken;
mod made;
mod noise;
mod rules;

use drillwright::explain::{NotTaken, Tracked};
use drillwright::report::{tracked_case, tracked_document, tracked_svg, tracked_text};
use drillwright::{KnowledgeBase, TrackSetup};
use rstest::rstest;

use made::{Jerk, Lift, csv, like_published};

fn base() -> KnowledgeBase {
    crate::cli::rules().clone()
}

fn setup(skill: &str) -> TrackSetup {
    TrackSetup::new(skill)
        .unit("m")
        .facing("right")
        .height_cm("170")
}

fn tracked(base: &KnowledgeBase, setup: &TrackSetup, text: &str) -> Tracked {
    let track = base.track_from_reader("made.csv", setup, text.as_bytes());
    base.track(&track.unwrap_or_else(|error| panic!("{error}")))
        .unwrap()
}

fn value(tracked: &Tracked, id: &str) -> i64 {
    let mut all = tracked.measures.iter();
    let held = all.find(|held| held.measure.id.as_str() == id);
    held.unwrap_or_else(|| panic!("no `{id}`: {:?}", tracked.not_taken))
        .value
}

#[track_caller]
fn near(tracked: &Tracked, id: &str, wanted: f64, within: f64) {
    let found = value(tracked, id) as f64;
    assert!(
        (found - wanted).abs() <= within,
        "{id}: {found}, wanted {wanted}"
    );
}

/// Measures of a curve that is known in closed form come out within a few millimetres, whatever the rate. A filter with lag,
/// a peak taken from the recovery, or a sign turned round breaks it.
#[rstest]
#[case(30.0, 8.0)]
#[case(60.0, 5.0)]
#[case(120.0, 4.0)]
#[case(250.0, 4.0)]
fn a_known_curve_is_measured(#[case] rate: f64, #[case] mm: f64) {
    let lift = like_published();
    let found = tracked(&base(), &setup("snatch"), &csv(&lift.rows(rate)));
    let [rear, front, end] = lift.aside.map(|m| m * 1000.0);
    near(&found, "bar-towards-in-pull", rear, mm);
    near(&found, "bar-farthest-in-front", front, mm);
    near(&found, "bar-swing-away", front - rear, mm);
    near(&found, "bar-receive-displacement", end, mm);
    near(&found, "bar-loop", front - end, mm + 2.0);
    near(&found, "drop-to-receive", lift.drop() * 1000.0, mm + 6.0);
    near(
        &found,
        "bar-peak-height",
        (lift.rise() + 0.225) * 100.0,
        1.0,
    );
    near(&found, "peak-upward-speed", lift.fastest * 100.0, 6.0);
    assert_eq!(value(&found, "start-line-crossings"), 2);
    // Steps of the rate that was found.
    assert!(
        (found.rate_mhz as f64 / 1000.0 - rate).abs() < 0.01,
        "{}",
        found.rate_mhz
    );
    let order: Vec<&str> = found
        .events
        .iter()
        .map(|held| held.event.id.as_str())
        .collect();
    assert_eq!(order[0], "bar-leaves-floor");
    assert_eq!(order[order.len() - 1], "bar-received");
}

/// Numbers of a lift that is made like published means lie where those do: 71.8 % (Ai 2018), 10 to 20 cm behind (Stone 1998).
#[test]
fn a_lift_like_published_means_measures_like_them() {
    let found = tracked(
        &base(),
        &setup("snatch").measured("foot-displacement", -20),
        &csv(&like_published().rows(60.0)),
    );
    assert_eq!(value(&found, "snatch-peak-height"), 72);
    assert!((-200..=-100).contains(&value(&found, "bar-receive-displacement")));
    let look = |id: &str| {
        let mut all = found.looks.iter();
        all.find(|held| held.look.id.as_str() == id)
            .map(|held| held.is_true)
    };
    assert_eq!(look("snatch-peak-at-published-mean"), Some(true));
    assert_eq!(look("bar-caught-far-behind"), Some(false));
    // Beyond 2.5 cm counts as moved (Schilling 2002).
    assert_eq!(look("feet-not-moved"), Some(true));
    assert_eq!(look("feet-moved-backward"), Some(false));
    assert!(found.remarks.is_empty(), "{:?}", found.remarks);
    // The same lift, 3 cm lower in the mean of cleans (59.5 %): only the pull is shorter.
    let clean = Lift {
        pull: 0.70,
        aside: [-0.05, 0.02, -0.08],
        ..like_published()
    };
    let found = tracked(&base(), &setup("clean"), &csv(&clean.rows(60.0)));
    assert!((58..=61).contains(&value(&found, "clean-peak-height")));
}

#[rstest]
#[case(60.0, 5.0)]
#[case(120.0, 4.0)]
fn a_known_jerk_is_measured(#[case] rate: f64, #[case] mm: f64) {
    // A dip of 13 % of 1.70 m (Grabe and Widule 1988, from a second hand).
    let jerk = Jerk {
        dip: 0.22,
        dip_drift: 0.04,
        drive_drift: 0.02,
        end: -0.03,
        fastest: 1.7,
        rack: 1.38,
    };
    let setup = setup("jerk").ground("0");
    let found = tracked(&base(), &setup, &csv(&jerk.rows(rate)));
    near(&found, "jerk-dip-depth", 220.0, mm);
    near(&found, "jerk-dip-percent", 13.0, 0.5);
    near(&found, "jerk-dip-drift", 40.0, mm);
    near(&found, "jerk-drive-drift", 20.0, mm);
    near(&found, "bar-receive-displacement", -30.0, mm + 2.0);
    near(
        &found,
        "jerk-peak-height",
        (jerk.rack + jerk.rise()) / 1.70 * 100.0,
        1.0,
    );
    near(&found, "peak-upward-speed", 170.0, 8.0);
    let look = |id: &str| {
        found
            .looks
            .iter()
            .find(|held| held.look.id.as_str() == id)
            .unwrap()
            .is_true
    };
    assert!(look("bar-forward-in-dip"));
    assert!(!look("dip-straight-down"));
}

/// What was not said is told as such: without the ground no height of a jerk, without body height no percent.
#[test]
fn what_is_missing_is_told_with_its_reason() {
    let jerk = Jerk {
        dip: 0.2,
        dip_drift: 0.0,
        drive_drift: 0.0,
        end: 0.0,
        fastest: 1.6,
        rack: 1.38,
    };
    let setup = TrackSetup::new("jerk").unit("m").facing("right");
    let found = tracked(&base(), &setup, &csv(&jerk.rows(60.0)));
    let why = |id: &str| {
        let mut all = found.not_taken.iter();
        all.find(|(measure, _)| measure.id.as_str() == id)
            .map(|(_, why)| why.clone())
    };
    assert_eq!(why("jerk-peak-height"), Some(NotTaken::NoGround));
    assert_eq!(why("jerk-dip-percent"), Some(NotTaken::NoBodyHeight));
    // A pull from the hang that ends high never falls: what follows from the fall is open, the rest is not.
    let mut rows = like_published().rows(60.0);
    let top = rows.iter().position(|[t, ..]| *t > 1.73).unwrap();
    let high = rows[top][2];
    for row in &mut rows[top..] {
        row[2] = high;
    }
    let found = tracked(&base(), &self::setup("snatch"), &csv(&rows));
    assert!(
        found
            .events
            .iter()
            .any(|held| held.event.id.as_str() == "bar-leaves-floor")
    );
    let (_, why) = found
        .not_found
        .iter()
        .find(|(event, _)| event.id.as_str() == "bar-begins-to-fall")
        .unwrap();
    assert_eq!(
        *why,
        NotTaken::NeverBelow {
            channel: String::from("vertical-speed"),
            than: -100
        }
    );
    assert!(
        found
            .not_taken
            .iter()
            .any(|(_, why)| matches!(why, NotTaken::Lacks(_)))
    );
    let text = tracked_text(&found, false);
    assert!(
        text.contains("Not known")
            && text.contains("`vertical-speed` is never below -100 mm a second"),
        "{text}"
    );
}

/// The same track, written in other ways, measures the same.
#[test]
fn ways_of_writing_change_nothing() {
    let base = base();
    let rows = like_published().rows(60.0);
    let plain = tracked(&base, &setup("snatch"), &csv(&rows));
    let write = |head: &str, line: &dyn Fn(&[f64; 3]) -> String| {
        let lines: Vec<String> = rows.iter().map(line).collect();
        format!("{head}\n{}\n", lines.join("\n"))
    };
    let mirrored = |[t, x, y]: &[f64; 3]| format!("{t:.6},{:.6},{y:.6}", -x);
    let all = [
        (setup("snatch").facing("left"), write("t,x,y", &mirrored)),
        (
            TrackSetup::new("snatch").facing("right").height_cm("170"),
            write("Time [ms],X [mm],Y [mm]", &|[t, x, y]| {
                format!("{:.3},{:.3},{:.3}", t * 1e3, x * 1e3, y * 1e3)
            }),
        ),
        (
            setup("snatch").unit("px").scale("2.5").up_is("down"),
            write("t,x,y", &|[t, x, y]| {
                format!("{t:.6},{:.4},{:.4}", x * 400.0, 1080.0 - y * 400.0)
            }),
        ),
        (
            setup("snatch")
                .time_column("when")
                .across_column("bar, sideways")
                .up_column("high"),
            write("frame,when,high,\"bar, sideways\"", &|[t, x, y]| {
                format!("7,{t:.6},{y:.6},\"{x:.6}\"")
            }),
        ),
        (
            setup("snatch"),
            write("time;x;y", &|[t, x, y]| {
                format!("{t:.6};{x:.6};{y:.6}").replace('.', ",")
            }),
        ),
        (
            setup("snatch"),
            format!("\u{feff}# made\r\n{}", csv(&rows).replace('\n', "\r\n")),
        ),
    ];
    for (setup, text) in all {
        let found = tracked(&base, &setup, &text);
        assert_eq!(found.measures.len(), plain.measures.len());
        for (one, other) in plain.measures.iter().zip(&found.measures) {
            assert!(
                (one.value - other.value).abs() <= 1,
                "{}: {} {}",
                one.measure.id,
                one.value,
                other.value
            );
        }
    }
}

/// Lost pictures: short gaps are filled, long ones are told and only spoil what lies in them.
#[test]
fn gaps_are_filled_or_told() {
    let base = base();
    let rows = like_published().rows(60.0);
    let lose = |from: f64, to: f64| {
        let mut text = String::from("time,x,y\n");
        for [t, x, y] in &rows {
            text += &if *t > from && *t < to {
                format!("{t:.6},,\n")
            } else {
                format!("{t:.6},{x:.6},{y:.6}\n")
            };
        }
        tracked(&base, &setup("snatch"), &text)
    };
    let whole = lose(9.0, 9.0);
    let short = lose(1.20, 1.25);
    assert!(short.gaps.is_empty() && short.lost >= 2);
    for (one, other) in whole.measures.iter().zip(&short.measures) {
        assert!(
            (one.value - other.value).abs() <= 3,
            "{}: {} {}",
            one.measure.id,
            one.value,
            other.value
        );
    }
    // Over the highest point, at 1.73 s.
    let long = lose(1.60, 1.85);
    assert_eq!(long.gaps.len(), 1);
    let (_, why) = long
        .not_found
        .iter()
        .find(|(event, _)| event.id.as_str() == "bar-highest")
        .unwrap();
    assert!(
        matches!(why, NotTaken::Gap(..) | NotTaken::Lacks(_)),
        "{why:?}"
    );
    assert!(
        long.events
            .iter()
            .any(|held| held.event.id.as_str() == "bar-leaves-floor")
    );
    assert!(tracked_text(&long, false).contains("There is a gap from 1.60 s to 1.85 s"));
    // Behind the receive it spoils nothing.
    let late = lose(2.4, 2.8);
    assert_eq!(late.gaps.len(), 1);
    assert_eq!(late.measures, whole.measures);
}

/// A mirrored track is asked about, and not turned round.
#[test]
fn a_mirrored_track_is_asked_about() {
    let found = tracked(
        &base(),
        &setup("snatch").facing("left"),
        &csv(&like_published().rows(60.0)),
    );
    let said: Vec<&str> = found.remarks.iter().map(|held| held.id.as_str()).collect();
    assert_eq!(said, ["side-of-view-in-doubt"]);
    assert!(value(&found, "bar-away-in-pull") > 50);
    assert!(found.remarks[0].says.contains("Check the side of view"));
    assert!(tracked_text(&found, false).contains("! The bar goes away"));
}

/// What was measured goes on into a case, as a builder and as a file, and decides looks there.
#[test]
fn a_case_goes_on_from_a_track() {
    let base = base();
    let far = Lift {
        aside: [-0.06, 0.05, -0.25],
        ..like_published()
    };
    let found = tracked(&base, &setup("snatch"), &csv(&far.rows(60.0)));
    let file = format!(
        "{}  phase: general\n  faults: [{{fault: saved-backward, skill: snatch, grade: one-step}}]\n  fields: {{days: 2}}\n",
        tracked_case(&found)
    );
    let case = base.case_from_text("case.yaml", &file);
    let solved = base
        .solve(&case.unwrap_or_else(|error| panic!("{error}\n{file}")))
        .unwrap();
    let by_file = solved.into_week().unwrap();
    let built = base
        .case()
        .tracked(&found)
        .phase("general")
        .fault_of("saved-backward", "snatch", "one-step")
        .field("days", "2")
        .build();
    let by_builder = base.solve(&built.unwrap()).unwrap().into_week().unwrap();
    assert_eq!(by_file.worth, by_builder.worth);
    let plain = base
        .case()
        .phase("general")
        .fault_of("saved-backward", "snatch", "one-step")
        .field("days", "2")
        .build();
    let plain = base.solve(&plain.unwrap()).unwrap().into_week().unwrap();
    // Caught 25 cm behind and a wide loop raise two causes.
    assert_ne!(by_file.worth, plain.worth);
}

/// The document agrees with its schema, is read back, and the drawing is the same each time and has no open markup.
#[test]
fn documents_and_drawing() {
    let found = tracked(
        &base(),
        &setup("snatch"),
        &csv(&like_published().rows(60.0)),
    );
    let document = tracked_document(&found);
    let json = serde_json::to_value(&document).unwrap();
    let schema: serde_json::Value =
        serde_json::from_str(&drillwright::report::schema("track").unwrap()).unwrap();
    let held = jsonschema::validator_for(&schema).unwrap();
    assert!(held.is_valid(&json), "{:?}", held.iter_errors(&json).next());
    let mut without = json.clone();
    without.as_object_mut().unwrap().remove("measures");
    assert!(!held.is_valid(&without));
    assert_eq!(
        serde_json::from_value::<drillwright::report::TrackedDocument>(json).unwrap(),
        document
    );
    assert!(
        document
            .cautions
            .iter()
            .any(|said| said.contains("clinician"))
    );
    let text = tracked_text(&found, false);
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    let mut odd = found.clone();
    odd.file = String::from("a<b>&\"c\u{1}.csv");
    let svg = tracked_svg(&odd);
    assert!(svg.contains("a&lt;b&gt;&amp;&quot;c .csv"));
    assert_eq!(svg, tracked_svg(&odd));
    assert_eq!(svg.matches("<text").count(), svg.matches("</text>").count());
    let told: Vec<_> = found
        .events
        .iter()
        .filter(|held| !held.only_helps)
        .collect();
    assert_eq!(svg.matches("<circle").count(), told.len());
    assert!(told.len() < found.events.len());
    for held in told {
        assert!(svg.contains(&held.event.name), "{}", held.event.name);
    }
}

#[test]
fn a_track_of_other_rules_is_refused() {
    let base = base();
    let track = base
        .track_from_reader(
            "a.csv",
            &setup("snatch"),
            csv(&like_published().rows(60.0)).as_bytes(),
        )
        .unwrap();
    let other =
        KnowledgeBase::from_texts(rules::changed("track-filters", |text| text + "# other\n"))
            .unwrap();
    assert_eq!(
        other.track(&track).unwrap_err().kind(),
        drillwright::ErrorKind::OtherRules
    );
}
