//! Flights of each shape against an independent integrator.
//!
//! Source: `tests/oracles/flights.py` (`SciPy`'s `DOP853`, relative tolerance
//! of 1e-12, forces written from the published equations); its table is
//! recomputed by `tests/all`.

use glam::{DQuat, DVec3};
use longodds_sim::{
    aero::Coefficients,
    body::{Body, Shape, Surface},
    flight::{
        Ending, Flight, Last, Plane, Scene, Settings, Source, State, Step, Verdict, Watch, fly,
    },
    world::{Air, AirNow, MeanWind, Terrain},
};

/// One row of the table, by column.
struct Row<'a>(csv::StringRecord, &'a csv::StringRecord);

impl Row<'_> {
    fn word(&self, column: &str) -> &str {
        let place = self.1.iter().position(|name| name == column).unwrap();
        &self.0[place]
    }

    fn number(&self, column: &str) -> f64 {
        self.word(column).parse().unwrap()
    }

    fn vector(&self, letter: char, from: usize) -> DVec3 {
        let at = |i: usize| self.number(&format!("{letter}{}", from + i));
        DVec3::new(at(0), at(1), at(2))
    }

    fn state(&self, letter: char) -> State {
        let axis = self.vector(letter, 6);
        let w = self.number(&format!("{letter}9"));
        State {
            position: self.vector(letter, 0),
            velocity: self.vector(letter, 3),
            attitude: DQuat::from_xyzw(axis.x, axis.y, axis.z, w),
            rates: self.vector(letter, 10),
        }
    }

    /// By the word for it, or as a ball by that for its surface.
    fn shape(&self) -> Shape<f64> {
        let word = if self.surface().is_some() { "sphere" } else { self.word("shape") };
        let known = Shape::ALL.iter().find(|shape| shape.name() == word);
        let mut columns = ["a", "b", "c"].into_iter();
        known.unwrap().map(|_| self.number(columns.next().unwrap()))
    }

    /// The surface of a ball that curves.
    fn surface(&self) -> Option<Surface> {
        Surface::ALL.into_iter().find(|surface| surface.name() == self.word("shape"))
    }

    fn flight(&self) -> Flight {
        let surface = self.surface().unwrap_or_default();
        let body = Body { surface, ..Body::solid(self.shape(), self.number("mass")) };
        let air = Air {
            density: self.number("density"),
            viscosity: self.number("viscosity"),
            sound: 340.0,
        };
        let terrain = match self.word("terrain") {
            "open" => Terrain::Open,
            "suburb" => Terrain::Suburb,
            _ => Terrain::Uniform,
        };
        let wind = MeanWind {
            x: self.number("wind_x"),
            y: self.number("wind_y"),
            height: self.number("height"),
            terrain,
        };
        let plane = Plane { normal: DVec3::X, offset: self.number("plane"), rate: 0.0 };
        Flight {
            draw: 0,
            start: self.state('s'),
            body,
            coefficients: Coefficients::new(&body, &air, 1.0),
            air: AirNow { air, wind, gusts: None, wake: None },
            deadline: self.number("time"),
            watch: Watch { zone: None, plane: Some(plane), every_step: false },
        }
    }
}

struct One(Option<Flight>);

impl Source for One {
    fn next_flight(&mut self) -> Option<Flight> {
        self.0.take()
    }
}

/// Notes the crossing and the end.
#[derive(Default)]
struct Notes {
    crossing: Option<(f64, DVec3)>,
    end: Option<State>,
}

impl Scene for Notes {
    fn look(&mut self, flight: &Flight, step: &Step) -> Verdict {
        let plane = flight.watch.plane.unwrap();
        let before = |t: f64| plane.distance(step.position(t), t) < 0.0;
        if before(step.from()) && !before(step.to()) {
            let (mut a, mut b) = (step.from(), step.to());
            for _ in 0..60 {
                let middle = 0.5 * (a + b);
                if before(middle) { a = middle } else { b = middle }
            }
            self.crossing = Some((b, step.position(b)));
        }
        Verdict::Continue
    }

    fn ended(&mut self, _: &Flight, ending: Ending, last: Last) {
        assert_eq!(ending, Ending::Deadline);
        self.end = Some(last.state);
    }
}

/// Limits: 2e-6 m (the drag tables of the step loop are exact to 1e-5 of the
/// drag for balls and rods, which is 20 m of flight times 1e-7), and ten times
/// that for rates of a tumbling body.
#[test]
fn every_shape_flies_as_an_independent_integrator_says() {
    let text = include_str!("oracles/flights.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let columns = reader.headers().unwrap().clone();
    let mut shapes = 0;
    for record in reader.records() {
        let row = Row(record.unwrap(), &columns);
        let mut notes = Notes::default();
        let settings = Settings { tolerance: 1e-11, ..Settings::default() };
        fly(&settings, &mut One(Some(row.flight())), &mut notes);

        let (end, wanted) = (notes.end.unwrap(), row.state('e'));
        let name = row.word("shape");
        assert!((end.position - wanted.position).length() < 2e-6, "{name}: {}", end.position);
        assert!((end.velocity - wanted.velocity).length() < 2e-5, "{name}: {}", end.velocity);
        let angle = end.attitude.dot(wanted.attitude).abs();
        // A ball that curves keeps no attitude.
        assert!(1.0 - angle < 1e-9 || row.surface().is_some(), "{name}: {}", end.attitude);
        assert!((end.rates - wanted.rates).length() < 2e-4, "{name}: {}", end.rates);

        let (time, place) = notes.crossing.unwrap();
        assert!((time - row.number("crossing")).abs() < 1e-7, "{name}: {time}");
        assert!((place - row.vector('c', 0)).length() < 2e-6, "{name}: {place}");
        shapes += 1;
    }
    assert_eq!(shapes, 15);
}
