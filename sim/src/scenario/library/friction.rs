//! Friction of loads on beds.

/// Static friction of a load on a bed, as the CTU Code lists it for clean
/// surfaces, dry or wet unless noted.
///
/// Source: CTU Code, Appendix 2 (read).
pub const FRICTION: &[(&str, f64)] = &[
    ("sawn timber on plywood or laminate", 0.45),
    ("sawn timber on grooved aluminium", 0.4),
    ("sawn timber on stainless sheet", 0.3),
    ("sawn timber on shrink film", 0.3),
    ("planed wood on plywood", 0.3),
    ("planed wood on grooved aluminium", 0.25),
    ("planed wood on stainless sheet", 0.2),
    ("plastic pallet on plywood", 0.2),
    ("plastic pallet on grooved aluminium", 0.15),
    ("plastic pallet on stainless sheet", 0.15),
    ("cardboard on cardboard or wood, dry", 0.5),
    ("big bag on wood", 0.4),
    ("rough unpainted metal on the same", 0.4),
    ("rough painted metal on the same", 0.3),
    ("smooth painted metal on the same", 0.2),
    ("smooth metal on the same", 0.2),
    ("steel crate on plywood", 0.45),
    ("steel crate on grooved aluminium", 0.3),
    ("steel crate on stainless sheet", 0.2),
    ("rough concrete on sawn wood", 0.7),
];
