//! `longodds speed`: from frames to a speed, and from a speed to the frames.

use crate::{
    failure::Failure,
    plain::percent,
    typed::{self, Typed, Units},
};
use longodds_sim::{
    quantity::{Dimension, Show, axis, format, significant},
    rig::camera::{CameraSpeed, Measured, Passage, blur, frames_needed},
};
use serde_json::json;
use std::io::Write;

/// Turn frames of a high-speed camera into a speed with its doubt.
///
/// Count the frame intervals that the object takes over a known distance in
/// the picture. With `--expect` instead of `--frames`: how many frames,
/// which distance or which frame rate a wanted precision takes.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  longodds speed --frames 24 --distance '50 cm' --frame-rate '960 frames/s'
  longodds speed --expect '45 mph' --distance '50 cm' --frame-rate '960 frames/s'")]
pub(crate) struct Arguments {
    /// Frame intervals over the distance.
    #[arg(long, required_unless_present = "expect")]
    frames: Option<f64>,
    /// Distance on the scale in the picture, such as '50 cm'.
    #[arg(long, value_parser = typed::length, required_unless_present = "expect")]
    distance: Option<Typed>,
    /// Frame rate, such as '960 frames/s'.
    #[arg(long, value_parser = typed::frequency, required_unless_present = "expect")]
    frame_rate: Option<Typed>,
    /// Standard error of the distance (one standard deviation), such as '2 mm'.
    #[arg(long, value_parser = typed::length)]
    scale_error: Option<Typed>,
    /// Relative standard error of the frame rate, such as '0.1 %'.
    #[arg(long, value_parser = typed::share)]
    frame_rate_error: Option<f64>,
    /// How far beyond the scale (in front: negative) the object passes.
    #[arg(long, value_parser = typed::offset, requires = "camera", allow_hyphen_values = true)]
    beyond: Option<Typed>,
    /// Standard error of `--beyond`.
    #[arg(long, value_parser = typed::length, requires = "camera")]
    beyond_error: Option<Typed>,
    /// Distance from the camera to the scale, for the parallax.
    #[arg(long, value_parser = typed::length)]
    camera: Option<Typed>,
    /// Angle between the track and the plane of the picture.
    #[arg(long, value_parser = typed::angle)]
    track_angle: Option<Typed>,
    /// Exposure time, for the smear.
    #[arg(long, value_parser = typed::time)]
    exposure: Option<Typed>,
    /// A speed to plan for, instead of frames.
    #[arg(long, value_parser = typed::speed, conflicts_with = "frames")]
    expect: Option<Typed>,
    /// Precision wanted (relative standard uncertainty).
    #[arg(long, value_parser = typed::share, default_value = "2 %")]
    to: f64,
    /// Units of the answer; else those of the distance or speed as typed.
    #[arg(long)]
    show: Option<Units>,
    /// Print JSON, in SI units.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let typed = [&arguments.distance, &arguments.expect, &arguments.camera];
    let own = typed::units_of(typed.into_iter().flatten());
    let show = arguments.show.map_or(own, Show::from);
    if let Some(speed) = &arguments.expect {
        return plan(arguments, speed.value, show, out);
    }
    let (Some(frames), Some(distance), Some(frame_rate)) =
        (arguments.frames, &arguments.distance, &arguments.frame_rate)
    else {
        return Err(Failure::wrong("frames, distance and frame rate are needed"));
    };
    let passage = passage(arguments, frames, distance.value, frame_rate.value);
    let speed = passage
        .speed()
        .map_err(|error| Failure::wrong(error.to_string()).help("`longodds speed --help`"))?;
    if arguments.json {
        let needed = frames_needed(arguments.to, passage.other_relative());
        writeln!(out, "{:#}", json!({ "speed": speed, "frames_needed": needed }))?;
        return Ok(());
    }
    in_words(&speed, show, out)?;
    if let Some(exposure) = &arguments.exposure {
        let smear = blur(speed.speed, exposure.value);
        let share = percent(smear / distance.value);
        let smear = format(smear, Dimension::Length, show);
        writeln!(out, "The picture is smeared over {smear}, {share} of the distance.")?;
    }
    advice(arguments, &passage, &speed, show, out)
}

fn passage(arguments: &Arguments, frames: f64, distance: f64, frame_rate: f64) -> Passage {
    let value = |typed: &Option<Typed>| typed.as_ref().map(|typed| typed.value);
    let or_zero = |typed: &Option<Typed>| value(typed).unwrap_or(0.0);
    let relative = arguments.frame_rate_error.unwrap_or(0.0);
    Passage {
        distance: Measured { value: distance, uncertainty: or_zero(&arguments.scale_error) },
        frame_rate: Measured { value: frame_rate, uncertainty: relative * frame_rate },
        beyond: Measured {
            value: or_zero(&arguments.beyond),
            uncertainty: or_zero(&arguments.beyond_error),
        },
        camera: value(&arguments.camera).unwrap_or(f64::INFINITY),
        track_angle: or_zero(&arguments.track_angle),
        ..Passage::plain(frames, distance, frame_rate)
    }
}

fn in_words(speed: &CameraSpeed, show: Show, out: &mut dyn Write) -> Result<(), Failure> {
    let own = axis(Dimension::Speed, show, speed.speed);
    let number = |v: f64| significant(own.value(v), 3);
    writeln!(
        out,
        "{} {}, give or take {} {} (one standard deviation).",
        number(speed.speed),
        own.symbol,
        significant(own.value(speed.uncertainty), 2),
        own.symbol
    )?;
    writeln!(
        out,
        "95 times in 100 the true speed lies between {} and {} {}.",
        number(speed.interval[0]),
        number(speed.interval[1]),
        own.symbol
    )?;
    let feet = significant(speed.speed / 0.3048, 3);
    let (si, imperial) = (
        format(speed.speed, Dimension::Speed, Show::Si),
        format(speed.speed, Dimension::Speed, Show::Imperial),
    );
    writeln!(out, "The same in other units: {si}, {feet} ft/s, {imperial}.")?;
    let parts: Vec<String> = speed
        .parts
        .iter()
        .filter(|part| part.relative > 0.0)
        .map(|part| format!("{} {}", part.cause, percent(part.relative)))
        .collect();
    writeln!(out, "\nWhere the doubt comes from: {}.", parts.join(", "))?;
    let highest =
        if speed.limits[1].is_finite() { number(speed.limits[1]) } else { "any speed".into() };
    writeln!(
        out,
        "Whole frames alone allow anything from {} to {highest} {}.",
        number(speed.limits[0]),
        own.symbol
    )?;
    if (speed.correction - 1.0).abs() > 1e-12 {
        let factor = significant(speed.correction, 4);
        writeln!(out, "Parallax and angle of the track: multiplied by {factor}.")?;
    }
    Ok(())
}

/// What the wanted precision takes, at this speed.
fn advice(
    arguments: &Arguments,
    passage: &Passage,
    speed: &CameraSpeed,
    show: Show,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let to = percent(arguments.to);
    let Some(needed) = frames_needed(arguments.to, passage.other_relative()) else {
        writeln!(
            out,
            "\nFor {to}: out of reach, the errors other than frames are {} already; a better \
             scale comes first.",
            percent(passage.other_relative())
        )?;
        return Ok(());
    };
    if needed <= passage.frames {
        writeln!(out, "\n{to} is met ({needed} frames are enough).")?;
        return Ok(());
    }
    let (rate, distance) = (passage.frame_rate.value, passage.distance.value);
    let longer = format(speed.speed / speed.correction * needed / rate, Dimension::Length, show);
    let faster = rate * needed / passage.frames;
    writeln!(
        out,
        "\nFor {to}: {needed} frames. At this speed over {longer} at the same frame rate, or at \
         {} frames/s over the same {}.",
        significant((faster / 10.0).ceil() * 10.0, 4),
        format(distance, Dimension::Length, show)
    )?;
    Ok(())
}

/// Planning: frame rates and distances that give the precision.
fn plan(arguments: &Arguments, speed: f64, show: Show, out: &mut dyn Write) -> Result<(), Failure> {
    let distance = arguments.distance.as_ref().map(|typed| typed.value);
    let scale = match (&arguments.scale_error, distance) {
        (Some(error), Some(distance)) => error.value / distance,
        _ => 0.0,
    };
    let other = (scale * scale + arguments.frame_rate_error.unwrap_or(0.0).powi(2)).sqrt();
    let Some(needed) = frames_needed(arguments.to, other) else {
        return Err(Failure::wrong(format!(
            "{} is out of reach: scale and frame rate alone are {}",
            percent(arguments.to),
            percent(other)
        ))
        .help("measure the scale better, or over a longer distance"));
    };
    let rates: Vec<f64> = match &arguments.frame_rate {
        Some(rate) => vec![rate.value],
        None => vec![120.0, 240.0, 480.0, 1000.0, 2000.0, 5000.0],
    };
    if arguments.json {
        let table: Vec<_> = rates
            .iter()
            .map(|rate| json!({ "frame_rate": rate, "distance": speed * needed / rate }))
            .collect();
        let rate = distance.map(|distance| speed * needed / distance);
        let answer = json!({
            "speed": speed, "to": arguments.to, "frames": needed,
            "distances": table, "frame_rate_for_distance": rate,
        });
        writeln!(out, "{answer:#}")?;
        return Ok(());
    }
    writeln!(
        out,
        "{} to {} (one standard deviation) takes {needed} frame intervals or more.",
        format(speed, Dimension::Speed, show),
        percent(arguments.to)
    )?;
    if let Some(distance) = distance {
        let rate = (speed * needed / distance / 10.0).ceil() * 10.0;
        writeln!(
            out,
            "Over {}: {} frames/s or more.",
            format(distance, Dimension::Length, show),
            significant(rate, 4)
        )?;
    }
    for rate in rates {
        let length = format(speed * needed / rate, Dimension::Length, show);
        writeln!(out, "At {} frames/s: over {length} or more.", significant(rate, 4))?;
    }
    Ok(())
}
