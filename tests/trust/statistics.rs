//! Intervals, plans and distributions against reference libraries.

use super::row::{Kind, Row, Said, Tolerance};
use longodds_sim::{
    estimate::Proportion,
    sampling::{Domain, Stream, slot_of},
    trials::demonstration::{seen_at_least_once, shots_needed},
    uncertain::{normal_cdf, normal_quantile},
    words::likelihood,
};

pub(super) fn rows() -> Vec<Row> {
    let mut rows = intervals();
    rows.extend(plans());
    rows.extend(normal());
    rows.extend(words());
    rows.extend(random());
    rows
}

fn intervals() -> Vec<Row> {
    let said = Said {
        model: "counts",
        source: "Clopper & Pearson 1934, by mpmath 1.4 with 40 digits and SciPy 1.17",
        kind: Kind::Library,
        unit: "",
        tolerance: Tolerance::Share(1e-9),
        range: "independent flights, any chance",
    };
    let table = [
        (100, 1, 0.000_253_146_032_977_420_6, 0.054_459_385_392_080_66),
        (200, 20, 0.062_159_366_254_066_09, 0.150_212_787_867_755_8),
        (1000, 500, 0.468_549_172_971_791_9, 0.531_450_827_028_208_1),
        (100_000, 37, 0.000_260_527_106_081_731_1, 0.000_509_960_561_154_996_1),
        (10_000_000, 250, 2.199_683_149_388_702e-5, 2.829_872_382_842_238e-5),
    ];
    let mut rows = Vec::new();
    for (n, k, low, high) in table {
        let ours = Proportion::clopper_pearson(k, n, 0.95);
        rows.push(said.row(format!("{k} of {n}: lower end"), low, ours.low));
        rows.push(said.row(format!("{k} of {n}: upper end"), high, ours.high));
    }
    rows
}

#[expect(clippy::cast_precision_loss, reason = "small counts")]
fn plans() -> Vec<Row> {
    let said = |unit, tolerance| Said {
        model: "plans",
        source: "binomial distribution of SciPy 1.17",
        kind: Kind::Library,
        unit,
        tolerance,
        range: "shots alike and independent",
    };
    let shots = said("shots", Tolerance::By(0.0));
    let seen = said("", Tolerance::By(1e-9));
    let needed = |rate, allowed| shots_needed(rate, 0.95, allowed) as f64;
    vec![
        shots.row("none allowed, shown below 5 % at 95 %", 59.0, needed(0.05, 0)),
        shots.row("two allowed, shown below 10 % at 95 %", 61.0, needed(0.1, 2)),
        shots.row("five allowed, shown below 1 % at 95 %", 1049.0, needed(0.01, 5)),
        seen.row(
            "3 %, 20 shots: seen at least once",
            0.456_205_657_073,
            seen_at_least_once(0.03, 20),
        ),
        seen.row(
            "10 %, 10 shots: seen at least once",
            0.651_321_559_9,
            seen_at_least_once(0.1, 10),
        ),
    ]
}

fn normal() -> Vec<Row> {
    let said = Said {
        model: "spreads",
        source: "normal distribution: AS 241 (Wichura 1988), digits by SciPy 1.17",
        kind: Kind::Library,
        unit: "",
        tolerance: Tolerance::Share(1e-12),
        range: "any probability",
    };
    vec![
        said.row("quantile of 0.975", 1.959_963_984_540_054, normal_quantile(0.975)),
        said.row("quantile of 1e-10", -6.361_340_902_404_056, normal_quantile(1e-10)),
        said.row("chance below -1.5", 0.066_807_201_268_858_07, normal_cdf(-1.5)),
    ]
}

/// Where the words for a chance change.
fn words() -> Vec<Row> {
    let said = Said {
        model: "counts",
        source: "IPCC Fourth Assessment Report, Working Group II, front matter F: description of likelihood",
        kind: Kind::Read,
        unit: "",
        // One step of the search.
        tolerance: Tolerance::By(1.5e-3),
        range: "words beside a number and its interval",
    };
    let begins = |term: &str| {
        let mut chances = (0..=1000).map(|k| f64::from(k) / 1000.0);
        chances.find(|&p| likelihood(p, p).to_string() == term).unwrap_or(f64::NAN)
    };
    vec![
        said.row("exceptionally unlikely ends", 0.01, begins("extremely unlikely")),
        said.row("unlikely begins", 0.1, begins("unlikely")),
        said.row("about as likely as not begins", 0.33, begins("about as likely as not")),
        said.row("likely begins", 0.66, begins("likely")),
        said.row("very likely begins", 0.9, begins("very likely")),
        said.row("virtually certain begins", 0.99, begins("virtually certain")),
    ]
}

/// The first words of the published known answer, as our number between 0 and 1.
#[expect(clippy::cast_precision_loss, reason = "52 bits")]
fn random() -> Vec<Row> {
    let said = Said {
        model: "spreads",
        source: "Random123, kat_vectors: philox4x32-10 of zeros begins 6627e8d5 e169c58d",
        kind: Kind::Read,
        unit: "",
        tolerance: Tolerance::Share(1e-15),
        range: "every seed and draw",
    };
    let slot = |name| f64::from(slot_of(name));
    let published = ((0xe169_c58d_6627_e8d5_u64 >> 12) as f64 + 0.5) / 4_503_599_627_370_496.0;
    let hashes = Said {
        source: "FNV-1a in 32 bits: the test vectors of test_fnv.c, in a copy",
        range: "every name",
        ..said
    };
    let ours = Stream::new(0, Domain::DRAWS).uniform(0, 0);
    vec![
        said.row("random number 0 of seed 0", published, ours),
        hashes.row("slot of the name `foobar`", f64::from(0xbf9c_f968_u32), slot("foobar")),
    ]
}
