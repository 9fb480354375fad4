//! `longodds camera`: where to put a camera, and what it will see.

use crate::{
    evidence,
    failure::Failure,
    files, paste,
    plain::{self, percent, table},
    rigging::write_picture_beside,
    typed::{self, Typed},
};
use longodds_reports::{
    Frame,
    chart::{self, FilmingChart},
    slate,
};
use longodds_sim::{
    filming::{
        Camera, Distance, Fixed, Lane, Looks, Subject, Unseen, View, Wanted, Zone, lane, stand,
        view,
    },
    findings::Findings,
    quantity::{Dimension, Show, format, significant},
    words::Spoken,
};
use serde_json::json;
use std::{
    io::{self, Write},
    path::{Path, PathBuf},
};

/// Say where to put a camera, and what it will see of the strike.
///
/// It looks square at the track, level with the strike. What is not told is
/// chosen: the lowest frame rate of those told that gives the wanted precision,
/// the longest exposure that smears no more than wanted, and the distance or
/// the lens. Who stands where is the zone's business: tell it with --zone.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds run claim.yaml
  longodds exclusion claim.yaml --json > zone.json
  longodds camera claim.findings.json --zone zone.json --sensor '13.2 mm' --lens '50 mm' \\
      --rate '240 fps' --rate '960 fps' --picture camera.svg --slate slate.html")]
pub(crate) struct Arguments {
    /// Findings of a run: of the claim, or of the rig's shot.
    findings: PathBuf,
    /// What `longodds exclusion --json` told: the zone that nobody stands in.
    #[arg(long, value_name = "FILE")]
    zone: Option<PathBuf>,
    /// Width of the sensor.
    #[arg(long, value_parser = typed::length, requires = "lens", conflicts_with = "field")]
    sensor: Option<Typed>,
    /// Focal length of the lens.
    #[arg(long, value_parser = typed::length, requires = "sensor")]
    lens: Option<Typed>,
    /// Angle of the field across, instead of sensor and lens.
    #[arg(long, value_parser = typed::angle)]
    field: Option<Typed>,
    /// Pixels across the field.
    #[arg(long, default_value_t = 1920, value_parser = clap::value_parser!(u32).range(16..=100_000))]
    pixels: u32,
    /// A frame rate that the camera has; more than once if you like. 240, 480, 960
    /// and 2000 frames/s where not told.
    #[arg(long, value_parser = typed::frequency)]
    rate: Vec<Typed>,
    /// Exposure time, such as '0.2 ms'.
    #[arg(long, value_parser = typed::time)]
    exposure: Option<Typed>,
    /// Distance of the camera from the track.
    #[arg(long, value_parser = typed::length)]
    distance: Option<Typed>,
    /// Wanted precision of the speed (relative standard uncertainty).
    #[arg(long, value_parser = typed::share, default_value = "2 %")]
    to: f64,
    /// Wanted smear, in pixels.
    #[arg(long, default_value_t = 3.0)]
    smear: f64,
    /// Standard error of distances in the picture, relative.
    #[arg(long, value_parser = typed::share, default_value = "0.5 %")]
    scale_error: f64,
    /// See what comes out behind the target, too.
    #[arg(long)]
    behind: bool,
    /// Draw the plan (`.svg` or `.png`).
    #[arg(long)]
    picture: Option<PathBuf>,
    /// Write a card to print and hold before the camera (`.html`).
    #[arg(long)]
    slate: Option<PathBuf>,
    /// Print JSON, in SI units.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let findings = super::report::read(&arguments.findings)?;
    let lane = lane(&findings).ok_or_else(|| {
        Failure::wrong("none of the flights that were kept struck: there is no track to film")
            .help("film the rig's shot: give the findings of a run of its scenario")
    })?;
    let zone = zone(arguments)?;
    let chart = plan(arguments, &findings, lane, zone)?;
    if arguments.json {
        writeln!(out, "{:#}", json!({ "camera": chart, "cautions": CAUTIONS }))?;
    } else {
        write_words(arguments, &findings, &chart, out)?;
    }
    let mut quiet = io::sink();
    let talk = if arguments.json { &mut quiet as &mut dyn Write } else { out };
    if let Some(path) = &arguments.slate {
        let page = slate(&chart, &findings.claim_text);
        files::write(path, page.as_bytes())?;
        writeln!(talk, "\nwrote {}", path.display())?;
    }
    if let Some(path) = &arguments.picture {
        let picture = chart::filming(&chart, &findings, Frame::page());
        write_picture_beside(path, &picture, arguments.json, talk)?;
    }
    if !arguments.json && !files::is_stream(&arguments.findings) {
        writeln!(talk, "{}", go_on(arguments, &findings))?;
    }
    Ok(())
}

/// The zone of an answer of `exclusion`.
fn zone(arguments: &Arguments) -> Result<Option<Zone>, Failure> {
    let Some(path) = &arguments.zone else { return Ok(None) };
    let zone = Zone::of(&evidence::zone(path)?.found).ok_or_else(|| {
        Failure::wrong("that answer knows no distance")
            .help("fly more: `longodds exclusion --flights`")
    })?;
    Ok(Some(zone))
}

fn plan(
    arguments: &Arguments,
    findings: &Findings,
    lane: Lane,
    zone: Option<Zone>,
) -> Result<FilmingChart, Failure> {
    let value = |typed: &Option<Typed>| typed.as_ref().map(|typed| typed.value);
    if !(arguments.smear.is_finite() && arguments.smear > 0.0) {
        return Err(Failure::usage("--smear must be above zero"));
    }
    let by_angle = match value(&arguments.field) {
        Some(angle) if angle <= 0.0 || angle >= std::f64::consts::PI => {
            return Err(Failure::usage("--field must lie between 0 and 180 deg"));
        }
        angle => angle.map(|angle| 2.0 * longodds_sim::math::tan(0.5 * angle)),
    };
    let by_lens = value(&arguments.sensor).zip(value(&arguments.lens));
    let mut rates: Vec<f64> = arguments.rate.iter().map(|typed| typed.value).collect();
    if rates.is_empty() {
        rates = vec![240.0, 480.0, 960.0, 2000.0];
    }
    rates.sort_by(f64::total_cmp);
    let camera = Camera {
        field: by_angle.or(by_lens.map(|(sensor, lens)| sensor / lens)),
        pixels: f64::from(arguments.pixels),
        rates,
    };
    let extents = findings.object.extents;
    let subject = Subject {
        speed: lane.speed,
        size: extents.into_iter().fold(0.0, f64::max),
        scale: arguments.scale_error,
    };
    let looks = if arguments.behind { Looks::Behind } else { Looks::Before };
    let wanted = Wanted { uncertainty: arguments.to, smear: arguments.smear, looks };
    let told = match arguments.distance {
        Some(_) => Distance::Told,
        None => Distance::Open,
    };
    // How far away the zone asks depends on where the field's middle is, and its width on
    // how far away that is: settled after a few rounds.
    let mut fixed = Fixed {
        distance: value(&arguments.distance),
        exposure: value(&arguments.exposure),
        nearest: 0.0,
    };
    let mut round = || {
        let view = view(&camera, &subject, &wanted, &fixed).map_err(unseen)?;
        let field = lane.field(view.field, looks);
        let stand = stand(&lane, zone.as_ref(), field, view.distance, told);
        fixed.nearest = stand.distance;
        Ok::<_, Failure>((view, stand))
    };
    for _ in 0..ROUNDS {
        round()?;
    }
    let (view, stand) = round()?;
    Ok(FilmingChart { show: findings.show, lane, zone, stand, view, looks })
}

const ROUNDS: u32 = 8;

fn unseen(why: Unseen) -> Failure {
    match why {
        Unseen::BothOpen => Failure::usage("neither the lens nor the distance is told")
            .help("tell one of them: `--sensor` with `--lens`, `--field`, or `--distance`"),
        Unseen::TooNarrow => Failure::wrong("the object does not fit into the picture there")
            .help("go farther away, or take a shorter lens"),
    }
}

/// Said with every plan.
const CAUTIONS: [&str; 2] = [
    "a place is this model's, not a clearance: local codes, the site's safety officer and licensed \
     practice say who may stand where, and may ask for far more",
    "a camera inside the zone runs by remote control, with nobody at it and nothing of worth behind \
     it; glass and splinters fly farther than the object itself",
];

fn write_words(
    arguments: &Arguments,
    findings: &Findings,
    chart: &FilmingChart,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let (show, view, stand) = (chart.show, &chart.view, &chart.stand);
    let length = |length: f64| format(length, Dimension::Length, show);
    writeln!(out, "Claim: {}", findings.claim_text.trim())?;
    let side = if stand.left { "left" } else { "right" };
    let before = match chart.looks {
        Looks::Before => format!(", {} before the strike", length(0.5 * view.field)),
        Looks::Behind => String::new(),
    };
    writeln!(
        out,
        "Stand {} to the {side} of the track, square to it{before}, {} up, level with the strike.",
        length(stand.distance),
        length(stand.at[2].max(0.0))
    )?;
    writeln!(out, "{}", where_from_the_zone(chart))?;
    writeln!(out, "{}\n", what_it_tells(arguments, chart))?;
    writeln!(out, "{}", seen(view, show))?;
    let [slow, middle, fast] = chart.lane.speed.map(|v| format(v, Dimension::Speed, show));
    writeln!(
        out,
        "For strikes at {slow} to {fast}, 9 times in 10 (middle {middle}); the track is taken from {} \
         of them.",
        chart.lane.strikes
    )?;
    let [light, sharp] = limits(arguments, view);
    plain::list(out, "LIMITS", &[light, sharp].into_iter().flatten().collect::<Vec<_>>())?;
    plain::list(out, "CAUTION", &CAUTIONS.map(str::to_owned))?;
    Ok(())
}

fn where_from_the_zone(chart: &FilmingChart) -> String {
    let length = |length: f64| format(length, Dimension::Length, chart.show);
    match (&chart.zone, chart.stand.clear) {
        (Some(zone), Some(clear)) if clear >= 0.0 => format!(
            "That is {} outside the zone ({} of debris goes beyond it).",
            length(clear),
            Spoken::OneIn(zone.one_in)
        ),
        (Some(zone), Some(clear)) => format!(
            "THAT IS INSIDE THE ZONE, by {} ({} of debris goes beyond it): remote control only.",
            length(-clear),
            Spoken::OneIn(zone.one_in)
        ),
        _ => "NO ZONE IS TOLD (--zone): where anybody may stand is not known.".to_owned(),
    }
}

fn what_it_tells(arguments: &Arguments, chart: &FilmingChart) -> String {
    let view = &chart.view;
    let track = format(view.track, Dimension::Length, chart.show);
    let [_, middle, _] = view.frames;
    match view.uncertainty {
        Some(told) if told <= arguments.to => format!(
            "It tells the speed to {} (one standard deviation) even of the fast ones: {} frames over \
             {track} for the middle one.",
            percent(told),
            significant(middle.floor(), 3)
        ),
        Some(told) => format!(
            "IT DOES NOT REACH {}: the speed is told to {} (one standard deviation) of the fast ones, {} \
             frames over {track} for the middle one. A higher frame rate or a wider field would do.",
            percent(arguments.to),
            percent(told),
            significant(middle.floor(), 3)
        ),
        None => format!(
            "IT TELLS NO SPEED: the fast ones pass the {track} within one frame. A higher frame rate or \
             a wider field would do."
        ),
    }
}

fn seen(view: &View, show: Show) -> comfy_table::Table {
    let length = |length: f64| format(length, Dimension::Length, show);
    let per = match show {
        Show::Si => format!("{} to the centimetre", significant(view.pixels_per_metre / 100.0, 3)),
        Show::Imperial => format!("{} to the inch", significant(view.pixels_per_metre * 0.0254, 3)),
    };
    let mut table = table(["the camera", ""]);
    let [slow, _, fast] = view.frames.map(|n| significant(n.floor(), 3));
    for (what, value) in [
        ("frame rate", format!("{} frames/s", significant(view.rate, 4))),
        ("exposure", format!("1/{} s", significant(1.0 / view.exposure, 3))),
        ("field at the track", length(view.field)),
        ("angle of the field", angle(view.field / view.distance)),
        ("pixels", per),
        ("the object in the picture", format!("{} pixels long", significant(view.object, 3))),
        ("frames before the strike", format!("{fast} (fast) to {slow} (slow)")),
        ("smear of the fast ones", format!("{} pixels", significant(view.smear, 2))),
        ("light lost to a shutter of 1/50 s", stops(view.stops)),
    ] {
        table.add_row([what, &value]);
    }
    table
}

fn angle(field_over_distance: f64) -> String {
    let half = longodds_sim::math::atan2(0.5 * field_over_distance, 1.0);
    format(2.0 * half, Dimension::Angle, Show::Si)
}

fn stops(lost: f64) -> String {
    format!("{} stops", significant(lost, 2))
}

/// What the pictures are short of.
fn limits(arguments: &Arguments, view: &View) -> [Option<String>; 2] {
    let smeared = view.smear > arguments.smear * 1.000_001;
    let smear = format!(
        "the fast ones smear over {} pixels, more than the {} wanted: a shorter exposure",
        significant(view.smear, 2),
        significant(arguments.smear, 2)
    );
    let longer = view.exposure > 1.000_001 / view.rate;
    let exposure = "the exposure is longer than a frame: no camera does that".to_owned();
    [smeared.then_some(smear), longer.then_some(exposure)]
}

/// The next command: with the zone, where none is told; else with the card.
fn go_on(arguments: &Arguments, findings: &Findings) -> String {
    let name = files::typed(&arguments.findings);
    let options = arguments.typed();
    let words = ["camera", &name].into_iter().chain(options.iter().map(String::as_str));
    if arguments.zone.is_none() && Path::new(&findings.scenario_name).exists() {
        let kept = files::beside(&arguments.findings, "zone.json");
        let zone = ["exclusion", &findings.scenario_name];
        return paste::kept(zone, &kept, words.chain(["--zone", &kept]));
    }
    if arguments.slate.is_none() {
        return paste::next(words.chain(["--slate", "slate.html", "--picture", "camera.svg"]));
    }
    paste::next(["report", &name])
}

impl Arguments {
    /// What was told, as it is typed.
    fn typed(&self) -> Vec<String> {
        let mut words = Vec::new();
        let told = [
            ("--sensor", &self.sensor),
            ("--lens", &self.lens),
            ("--field", &self.field),
            ("--exposure", &self.exposure),
            ("--distance", &self.distance),
        ];
        let told = told.into_iter().filter_map(|(name, typed)| Some((name, typed.as_ref()?)));
        for (name, typed) in told.chain(self.rate.iter().map(|rate| ("--rate", rate))) {
            words.extend([name.to_owned(), typed.text.clone()]);
        }
        let mut add = |name: &str, value: String, usual: &str| {
            if value != usual {
                words.extend([name.to_owned(), value]);
            }
        };
        add("--pixels", self.pixels.to_string(), "1920");
        add("--to", self.to.to_string(), "0.02");
        add("--smear", self.smear.to_string(), "3");
        add("--scale-error", self.scale_error.to_string(), "0.005");
        let zone = self.zone.as_ref().map(|zone| ["--zone".to_owned(), files::typed(zone)]);
        words.extend(zone.into_iter().flatten());
        if self.behind {
            words.push("--behind".to_owned());
        }
        words
    }
}
