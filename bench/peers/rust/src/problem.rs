//! A problem as every peer reads it: see `problem.py`.

use serde_json::Value;
use std::{fs, path::Path};

/// State and wind.
pub type Draw = [f64; 15];

/// Constants, a drag table, and draws.
pub struct Problem {
    pub family: String,
    pub mass: f64,
    pub inertia: [f64; 3],
    pub plane: f64,
    pub deadline: f64,
    pub constants: Value,
    pub curve: Option<Curve>,
    pub draws: Vec<Draw>,
}

/// A drag table: a cubic in each of 16 cells per doubling.
#[derive(Clone)]
pub struct Curve {
    first: i64,
    lowest: f64,
    highest: f64,
    cells: Vec<[f64; 4]>,
}

impl Curve {
    #[inline(always)]
    pub fn at(&self, x: f64) -> f64 {
        let bits = x.max(self.lowest).min(self.highest).to_bits();
        let cell = (bits >> 48) as i64 - ((1023 + self.first) << 4);
        let below = (bits & ((1 << 48) - 1)) | (1023 << 52);
        let place = (f64::from_bits(below) - 1.0) * 16.0;
        let [a, b, c, d] = self.cells[cell as usize];
        ((d * place + c) * place + b) * place + a
    }
}

impl Problem {
    pub fn read(folder: &Path) -> Self {
        let text = fs::read(folder.join("problem.json")).expect("a problem");
        let told: Value = serde_json::from_slice(&text).expect("JSON");
        let number = |value: &Value| value.as_f64().expect("a number");
        let curve = told.get("curve").map(|curve| Curve {
            first: curve["first"].as_i64().expect("a whole number"),
            lowest: number(&curve["lowest"]),
            highest: number(&curve["highest"]),
            cells: serde_json::from_value(curve["cells"].clone()).expect("cells"),
        });
        let bytes = fs::read(folder.join("draws.f64")).expect("draws");
        let numbers: Vec<f64> = bytes
            .chunks_exact(8)
            .map(|b| f64::from_le_bytes(b.try_into().expect("8 bytes")))
            .collect();
        Self {
            family: told["family"].as_str().expect("a family").to_owned(),
            mass: number(&told["mass"]),
            inertia: serde_json::from_value(told["inertia"].clone()).expect("three moments"),
            plane: number(&told["plane"]),
            deadline: number(&told["deadline"]),
            constants: told["constants"].clone(),
            curve,
            draws: numbers.chunks_exact(15).map(|d| d.try_into().expect("15 numbers")).collect(),
        }
    }

    pub fn constant(&self, name: &str) -> f64 {
        self.constants[name].as_f64().unwrap_or_else(|| panic!("no constant {name}"))
    }
}
