//! Tests of the command as people use it: a file in, text out; and of the
//! house that it is built in.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod agree;
mod answers;
mod bad_input;
mod barriers;
mod bounces;
mod camera;
mod check;
mod closed_forms;
mod compare;
mod custom;
mod cuts;
mod dependencies;
mod draw;
mod drivers;
mod evidence;
mod exclusion;
mod go_on;
mod ground;
mod harm;
mod layers;
#[cfg(feature = "live")]
mod live;
mod new;
mod next;
mod oracle_flights;
mod oracle_judgement;
mod parts;
mod quantities;
mod rig;
mod rig_release;
mod run;
mod safety;
mod sayings;
mod secured;
mod shapes;
mod spin;
mod traffic;
mod trust;
mod util;
mod voices;
mod wake;
mod what_if;
#[cfg(feature = "live")]
mod wire;
