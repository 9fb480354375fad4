//! The shelf of the program: every part that comes with it.

use super::{Origin, Part, Side, text as of_part};
use crate::{diagnostic::Diagnostic, scenario::language, text::nearest::nearest};

macro_rules! shelf {
    ($folder:literal: $($name:literal)*) => {
        &[$(($name, include_str!(concat!($folder, "/", $name, ".yaml")))),*]
    };
}

/// Objects, by kind.
const OBJECTS: &[(&str, &str)] = shelf!("objects":
    "plywood_12mm_8x4" "plywood_18mm_8x4" "osb_18mm_8x4" "plasterboard_12mm"
    "steel_sheet_corrugated" "polycarbonate_4mm" "road_sign" "insulation_board_50mm"
    "scaffold_board_13ft" "scaffold_tube_6m" "timber_2x4_8ft" "ladder_alloy_3m" "fence_post"
    "brick" "concrete_block" "paving_slab" "roof_tile_concrete" "roof_tile_clay" "slate"
    "coping_stone" "manhole_cover"
    "traffic_cone" "steel_drum_empty" "plastic_drum_empty" "gas_cylinder_full" "wheelie_bin_empty"
    "pallet" "bucket_full" "plant_pot" "paint_tin_full"
    "car_wheel" "lorry_wheel" "bicycle_wheel"
    "football" "basketball" "tennis_ball" "cricket_ball" "baseball" "golf_ball" "bowling_ball"
    "apple" "melon" "pumpkin"
    "glass_bottle_empty" "water_bottle_full" "drinks_can_full"
    "garden_chair" "table_wooden"
    "hammer" "spanner" "bolt_m20"
    "hail_20mm" "hail_50mm" "hail_76mm" "ice_block"
    "drone_small"
);

/// Targets, by kind.
const TARGETS: &[(&str, &str)] = shelf!("targets":
    "shop_front" "house_wall_window" "balcony_door" "site_hut" "shed" "block_wall" "bus_shelter"
    "garage_door" "barn_door"
    "greenhouse" "conservatory_roof" "skylight" "tiled_roof" "solar_panel"
    "fence" "hoarding" "crash_pad"
    "parked_car" "moving_car" "lorry_side" "boat" "tent"
    "standing_adult" "standing_adult_behind_screen"
);

fn of(side: Side) -> &'static [(&'static str, &'static str)] {
    match side {
        Side::Object => OBJECTS,
        Side::Target => TARGETS,
    }
}

/// The text of a part of the shelf.
pub(super) fn text(side: Side, name: &str) -> Option<&'static str> {
    of(side).iter().find(|(own, _)| *own == name).map(|(_, text)| *text)
}

/// Every part of the shelf for a side, in its order.
#[must_use]
pub fn shelf(side: Side) -> Vec<Part> {
    let language = language();
    let read = |(name, text): &(&str, &str)| {
        let text = (*text).to_owned();
        of_part::read(side, name, Origin::Shelf, text, 0, &language).part
    };
    of(side).iter().map(read).collect()
}

/// How many names are offered in the place of one that is not known.
const OFFERED: usize = 5;

/// A name that nothing has.
pub(super) fn unknown(side: Side, name: &str) -> Diagnostic {
    let folder = side.folder();
    if text(side.other(), name).is_some() {
        let message = format!("`{name}` is {}, not {}", side.other().noun(), side.noun());
        return Diagnostic::error("part::side", message)
            .help(format!("write it under `{}`", side.other().key()));
    }
    let holds = |own: &&str| name.len() > 2 && (own.contains(name) || name.contains(*own));
    let names = || of(side).iter().map(|(own, _)| *own);
    let first = nearest(name, names());
    let others = names().filter(holds).filter(|own| Some(*own) != first);
    let near: Vec<&str> = first.into_iter().chain(others).take(OFFERED).collect();
    let near: Vec<String> = near.iter().map(|name| format!("`{name}`")).collect();
    let near = match near.as_slice() {
        [] => String::new(),
        [one] => format!("did you mean {one}? "),
        [more @ .., last] => format!("did you mean {} or {last}? ", more.join(", ")),
    };
    Diagnostic::error("part::unknown", format!("no part is called `{name}`")).help(format!(
        "{near}`longodds parts` lists the shelf's; one of your own goes into `parts/{folder}` \
         beside the claim"
    ))
}
