//! Density, viscosity and sound of air; the standard atmosphere; mean wind and
//! gusts.

use super::row::{Kind, Row, Said, Tolerance};
use longodds_sim::world::{Air, Height, MeanWind, Terrain, Turbulence, standard_atmosphere};

pub(super) fn rows() -> Vec<Row> {
    let mut rows = density();
    rows.extend(standard());
    rows.extend(wind());
    rows.extend(gusts());
    rows
}

fn density() -> Vec<Row> {
    let said = Said {
        model: "air",
        source: "CIPM-2007: Picard, Davis, Glaeser & Fujii, Metrologia 45 (2008) 149, its equations",
        kind: Kind::SecondHand,
        unit: "kg/m³",
        tolerance: Tolerance::Share(1e-3),
        range: "-10 to 35 °C, 600 to 1100 hPa",
    };
    let table = [
        (20.0, 101_325.0, 0.5, 1.199_313_9),
        (20.0, 101_325.0, 0.0, 1.204_557_34),
        (15.0, 101_325.0, 0.0, 1.225_521_34),
        (27.0, 100_000.0, 1.0, 1.145_413_03),
        (20.0, 75_000.0, 0.5, 0.886_276_595),
    ];
    table
        .into_iter()
        .map(|(celsius, pressure, humidity, published)| {
            let ours = Air::moist(celsius + 273.15, pressure, humidity).density;
            let claim = format!(
                "density at {celsius} °C, {} hPa, {} % humid",
                pressure / 100.0,
                100.0 * humidity
            );
            said.row(claim, published, ours)
        })
        .collect()
}

fn standard() -> Vec<Row> {
    let said = |unit| Said {
        model: "air",
        source: "US Standard Atmosphere 1976, geopotential rows (0, 11 and 20 km read; the others by its equations)",
        kind: Kind::Read,
        unit,
        tolerance: Tolerance::Share(1e-5),
        range: "0 to 32 km",
    };
    let table = [
        (0.0, 288.15, 101_325.0, 1.225),
        (11_000.0, 216.65, 22_632.06, 0.363_918),
        (20_000.0, 216.65, 5_474.89, 0.088_034_8),
    ];
    let mut rows = Vec::new();
    for (height, kelvin, pascal, density) in table {
        let (air, temperature, pressure) =
            standard_atmosphere(Height::Geopotential(height)).unwrap();
        rows.push(said("K").row(format!("temperature at {height} m"), kelvin, temperature));
        rows.push(said("Pa").row(format!("pressure at {height} m"), pascal, pressure));
        rows.push(said("kg/m³").row(format!("density at {height} m"), density, air.density));
    }
    let dry = Air::moist(288.15, 101_325.0, 0.0);
    rows.push(said("Pa s").row("viscosity at 15 °C", 1.789_38e-5, dry.viscosity));
    rows.push(said("m/s").row("speed of sound at 15 °C", 340.294, dry.sound));
    rows
}

fn wind() -> Vec<Row> {
    let said = Said {
        model: "wind",
        source: "EN 1991-1-4, 4.3.2: ln(z/z0)/ln(10/z0) with the roughness lengths of table 4.1, by hand",
        kind: Kind::SecondHand,
        unit: "times the speed at 10 m",
        tolerance: Tolerance::By(5e-4),
        range: "up to 200 m, level open ground of the kind upwind",
    };
    // ln(2/0.05)/ln(10/0.05), ln(30/0.05)/ln(10/0.05), ln(30/0.3)/ln(10/0.3).
    let table = [
        ("open country at 2 m", Terrain::Open, 2.0, 0.6962),
        ("open country at 30 m", Terrain::Open, 30.0, 1.2073),
        ("suburb at 30 m", Terrain::Suburb, 30.0, 1.3133),
    ];
    table
        .into_iter()
        .map(|(what, terrain, height, published)| {
            let ours = MeanWind::new(1.0, 0.0, 10.0, terrain).at(height)[0];
            said.row(format!("mean wind over {what}"), published, ours)
        })
        .collect()
}

fn gusts() -> Vec<Row> {
    let said = Said {
        model: "gusts",
        source: "EN 1991-1-4, 4.4: turbulence intensity 1/ln(z/z0), by hand",
        kind: Kind::SecondHand,
        unit: "share of the mean",
        tolerance: Tolerance::By(5e-4),
        range: "up to 200 m",
    };
    let table = [
        ("open country at 10 m", Terrain::Open, 10.0, 0.1887),
        ("suburb at 10 m", Terrain::Suburb, 10.0, 0.2852),
    ];
    table
        .into_iter()
        .map(|(what, terrain, height, published)| {
            let ours = Turbulence::over(terrain, height).unwrap().intensity;
            said.row(format!("gusts over {what}"), published, ours)
        })
        .collect()
}
