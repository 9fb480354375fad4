//! `longodds draw`: pictures from findings kept by a run: the charts of the
//! page, frames for the camera, or a film.

use super::report;
use crate::{
    failure::Failure,
    files, paste,
    progress::Bar,
    what_if::{self, FLIGHTS, Sets},
};
use longodds_reports::{
    Picture,
    camera::{self, Film, Format, Ground, RGBColor},
    pictures,
};
use longodds_sim::{
    findings::{Findings, find},
    study::Ask,
};
use std::{
    fs,
    io::Write,
    path::{Path, PathBuf},
};

/// Draw the charts, camera frames or a film from findings.json; nothing is
/// flown, unless --set asks for the same claim changed.
///
/// Charts come as SVG and PNG. Camera frames (odds, energy, stream, fan,
/// closest) have a clear ground, for laying over footage, or --filled. A film
/// shows the closest call as numbered PNG frames at 25 a second, and as one
/// animated PNG and one GIF of half the size.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  longodds draw findings.json --out pictures
  longodds draw findings.json --set gap='10 m' --out nearer
  longodds draw findings.json --camera wide --ground dark --out frames
  longodds draw findings.json --camera tall --film 4 --out film")]
pub(crate) struct Arguments {
    /// The findings that a run wrote; `-` reads standard input.
    findings: PathBuf,
    /// The folder to write to; made if it is not there.
    #[arg(long, default_value = "pictures")]
    out: PathBuf,
    /// Frames for the camera instead of the page's charts: wide is 1920 by
    /// 1080 pixels, large 3840 by 2160, tall 1080 by 1920.
    #[arg(long, value_enum)]
    camera: Option<Size>,
    /// What the frames are laid over: dark footage (light letters) or light.
    #[arg(long, value_enum, default_value = "dark")]
    ground: Under,
    /// Fill the ground of frames and film, dark or light, instead of leaving it
    /// clear.
    #[arg(long, requires = "camera")]
    filled: bool,
    /// A film of the closest call instead of frames, slowed so many times
    /// (1 is real time, 0.1 to 1000).
    #[arg(long, value_name = "TIMES", requires = "camera")]
    film: Option<f64>,
    #[command(flatten)]
    sets: Sets,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Size {
    Wide,
    Large,
    Tall,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Under {
    Dark,
    Light,
}

impl Arguments {
    fn format(&self) -> Option<Format> {
        self.camera.map(|size| match size {
            Size::Wide => Format::Wide,
            Size::Large => Format::Large,
            Size::Tall => Format::Tall,
        })
    }

    /// The colour of the ground, if it is not left clear.
    fn paper(&self) -> Option<RGBColor> {
        self.filled.then(|| self.ground().colour())
    }

    fn ground(&self) -> Ground {
        match self.ground {
            Under::Dark => Ground::Dark,
            Under::Light => Ground::Light,
        }
    }
}

pub(crate) fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<(), Failure> {
    let findings = changed(report::read(&arguments.findings)?, &arguments.sets, out)?;
    let folder = &arguments.out;
    fs::create_dir_all(folder).map_err(|error| Failure::file("write", folder, &error))?;
    match (arguments.format(), arguments.film) {
        (Some(format), Some(slowed)) => {
            let film = Film::new(&findings, format, arguments.ground(), slowed);
            let film = film.ok_or_else(|| {
                Failure::wrong("no film can be made of these findings")
                    .help("slow it 0.1 to 1000 times; the findings must keep flights for drawing")
            })?;
            write_film(folder, &film, (format, arguments.paper()), out)
        }
        (Some(format), None) => {
            for picture in camera::frames(&findings, format, arguments.ground()) {
                let picture = Picture { paper: arguments.paper(), ..picture };
                write_picture(folder, &picture, format.scale(), out)?;
            }
            Ok(())
        }
        (None, _) => {
            for picture in pictures(&findings) {
                write_picture(folder, &picture, 2, out)?;
            }
            if arguments.sets.set.is_empty() {
                writeln!(out, "{}", paste::next(["report", &files::typed(&arguments.findings)]))?;
            }
            Ok(())
        }
    }
}

/// The findings as they are; with values set, the scenario that they keep is
/// flown anew, over as many of the same draws.
fn changed(findings: Findings, sets: &Sets, out: &mut dyn Write) -> Result<Findings, Failure> {
    if sets.set.is_empty() {
        return Ok(findings);
    }
    let name = &findings.scenario_name;
    let folder = Path::new(name).parent().unwrap_or(Path::new(""));
    let changed = what_if::read_text(name, &findings.scenario_text, folder, sets)?;
    if let Some(told) = changed.compared(findings.seed, FLIGHTS)? {
        told.say(out)?;
    }
    let ask = Ask { flights: findings.flights_asked, ..Ask::new(findings.seed) };
    let bar = Bar::new(ask.flights.unwrap_or(ask.budget), "flights");
    let again = find(changed.scenario, &ask, &bar);
    Ok(Findings { scenario_name: findings.scenario_name, ..again })
}

fn write_picture(
    folder: &Path,
    picture: &Picture,
    scale: u16,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let path = |kind: &str| folder.join(format!("{}.{kind}", picture.name));
    let (lines, dots) = (picture.svg_at(u32::from(scale)), picture.png(f32::from(scale)));
    files::write_all(&[(&path("svg"), lines.as_bytes()), (&path("png"), &dots)])?;
    for kind in ["svg", "png"] {
        writeln!(out, "{}", path(kind).display())?;
    }
    Ok(())
}

/// Numbered frames for an editor, and one animated PNG and GIF of half their
/// size (a quarter of the large ones).
fn write_film(
    folder: &Path,
    film: &Film<'_>,
    (format, paper): (Format, Option<RGBColor>),
    out: &mut dyn Write,
) -> Result<(), Failure> {
    for i in 0..film.len() {
        let path = folder.join(format!("film-{i:05}.png"));
        let picture = Picture { paper, ..film.picture(i) };
        files::write(&path, &picture.png(f32::from(format.scale())))?;
    }
    let animated = folder.join("film.apng");
    files::write(&animated, &camera::apng(film, 1.5, paper))?;
    let gif = folder.join("film.gif");
    files::write(&gif, &camera::gif(film, 1.5))?;
    let last = folder.join(format!("film-{:05}.png", film.len() - 1));
    writeln!(out, "{}", folder.join("film-00000.png").display())?;
    writeln!(out, "{} ({} frames, {} a second)", last.display(), film.len(), camera::PER_SECOND)?;
    writeln!(out, "{}\n{}", animated.display(), gif.display())?;
    Ok(())
}
