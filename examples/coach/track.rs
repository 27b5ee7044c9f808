//! `coach track`: what a tracked bar path says.

use std::process::ExitCode;

use drillwright::TrackSetup;
use drillwright::report::{tracked_case, tracked_document, tracked_svg, tracked_text};

use crate::args::{Common, Form, TrackArgs};
use crate::out::{self, Failed};

/// The measure that `--feet` says.
const FEET: &str = "foot-displacement";

pub fn run(common: &Common, args: &TrackArgs) -> Result<ExitCode, Failed> {
    let base = out::base(common)?;
    let name = args.file.display().to_string();
    let file = std::fs::File::open(&args.file).map_err(|error| {
        Failed::Said(format!(
            "`{name}` could not be read: {error}; check the name"
        ))
    })?;
    let track = base.track_from_reader(&name, &setup(args), file)?;
    let tracked = base.track(&track)?;
    if let Some(path) = &args.svg {
        std::fs::write(path, tracked_svg(&tracked)).map_err(|error| {
            Failed::Said(format!(
                "`{}` could not be written: {error}; check the folder",
                path.display()
            ))
        })?;
    }
    match common.form {
        Form::Json => out::json(&tracked_document(&tracked)),
        Form::Case => out::text(&tracked_case(&tracked)),
        _ => out::text(&tracked_text(&tracked, out::colour())),
    }
    Ok(ExitCode::SUCCESS)
}

/// What a flag says of a track.
type Say = fn(TrackSetup, &str) -> TrackSetup;

fn setup(args: &TrackArgs) -> TrackSetup {
    let mut setup = TrackSetup::new(&args.skill).facing(&args.facing);
    let said: [(&Option<String>, Say); 9] = [
        (&args.unit, TrackSetup::unit),
        (&args.scale, TrackSetup::scale),
        (&args.up_is, TrackSetup::up_is),
        (&args.time, TrackSetup::time_column),
        (&args.across, TrackSetup::across_column),
        (&args.up, TrackSetup::up_column),
        (&args.time_in, TrackSetup::time_in),
        (&args.ground, TrackSetup::ground),
        (&args.height, TrackSetup::height_cm),
    ];
    for (value, say) in said {
        if let Some(value) = value {
            setup = say(setup, value);
        }
    }
    if let Some(feet) = args.feet {
        setup = setup.measured(FEET, feet);
    }
    for (id, value) in &args.measured {
        setup = setup.measured(id, *value);
    }
    setup
}
