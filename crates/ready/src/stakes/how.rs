//! Setting out in words, step by step.

use measure::{Length, System};

use super::{Datum, SettingOut, Tops};

/// One step, and what to mind with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HowStep {
    /// What is done.
    pub says: String,
    /// What can hurt; may be empty.
    pub caution: &'static str,
}

/// How a house is set out, step by step, with its own figures.
///
/// The method is that of the bulletins: base line, one square corner, far side at equal distance, diagonals as the proof
/// (a research institute's article and the US Army Engineer School, S; both in our words).
pub fn how(out: &SettingOut) -> Vec<HowStep> {
    let tape = |length: Length| length.tape(out.system);
    let [width, length] = out.strings.map(tape);
    let mut steps = Vec::new();
    let mut step = |says: String, caution| steps.push(HowStep { says, caution });
    step(
        "Have buried lines marked before anything is driven, and look up for wires.".into(),
        "A post driven into a cable or a pipe can kill. Call whoever marks lines there, days ahead; keep bows, poles and \
         ladders at least 10 ft (3 m) from overhead lines.",
    );
    let about = match out.system {
        System::FeetInch => "3 to 4 ft",
        System::Metric => "about 1 m",
    };
    step(
        format!(
            "Set batter boards {about} outside each corner, level with each other, and stretch the left string over them: that \
             is the base line. Front left and back left are {length} apart on it."
        ),
        "A tight line that breaks whips: stand aside, and pull no harder than it takes to be straight.",
    );
    step(square(out), "");
    step(
        format!(
            "Measure {width} from the left string at the front and at the back, and stretch the right string; then the front \
             and the back string."
        ),
        "",
    );
    step(
        format!(
            "Check all four sides, then both diagonals with one tape and the same pull: {}. Equal diagonals prove it only when \
             opposite sides are equal too.",
            diagonals(out)
        ),
        "",
    );
    step(
        "If they differ, hold the base line and slide both stakes of the far string the same way along it, by about half the \
         difference; measure again."
            .into(),
        "",
    );
    step(
        format!(
            "Mark the posts along each string from its front stake, all from one end of the tape so that errors do not add up; \
             {}.",
            datum(out)
        ),
        "",
    );
    if out.posts.iter().any(|post| post.level.is_some()) {
        step(
            heights(out),
            "Ear and eye protection when posts are driven; gloves, cut tube is sharp.",
        );
    }
    step(
        "Measure the diagonals again after every break: somebody will have bumped a stake.".into(),
        "",
    );
    steps
}

fn square(out: &SettingOut) -> String {
    let tape = |length: Length| length.tape(out.system);
    match out.triangles.first() {
        Some(t) => format!(
            "Square one corner with the largest triangle that fits: {} back along the base line, {} across, and exactly {} from \
             mark to mark.",
            tape(t.along),
            tape(t.across),
            tape(t.slant)
        ),
        None => {
            "The tape is too short for a 3-4-5 triangle in whole units; square by the diagonals."
                .into()
        }
    }
}

fn diagonals(out: &SettingOut) -> String {
    let [one, other] = [&out.must[4], &out.must[5]];
    let tape = |length: Length| length.tape(out.system);
    let blind = out.blind.map(tape);
    let told = format!(
        "a difference up to {} cannot be told from the tape's own error, up to {} with two tapes",
        blind[0], blind[1]
    );
    match out.asked.fall.is_level() {
        true => format!("each {}; {told}", tape(one.level)),
        false => format!(
            "held level each {}; along this ground {} from {}, {} from {}; {told}",
            tape(one.level),
            tape(one.on_ground),
            one.between,
            tape(other.on_ground),
            other.between
        ),
    }
}

fn datum(out: &SettingOut) -> String {
    match out.asked.datum {
        Datum::Centre => "the string runs over the middle of the posts".into(),
        Datum::Outside => format!(
            "the string touches their outer faces, so that each centre is {} inside it",
            out.offset.tape(out.system)
        ),
    }
}

fn heights(out: &SettingOut) -> String {
    let levels = || out.posts.iter().filter_map(|post| post.level);
    let tape = |length: Length| length.tape(out.system);
    let tops = match out.asked.tops {
        Tops::Level => "all tops on one level line",
        Tops::WithTheGround => {
            "tops level across, and along the house at the ground's own even slope"
        }
    };
    let least = levels()
        .map(|level| level.in_ground)
        .min()
        .unwrap_or_default();
    let most = levels()
        .map(|level| level.short_of)
        .max()
        .unwrap_or_default();
    let shallow = match most > Length::millimetres(1) {
        true => format!(
            " One stands only {} in the ground, {} less than it is made for: ask the sender before you drive it, or level the \
             ground.",
            tape(least),
            tape(most)
        ),
        false => format!(" They stand {} in the ground.", tape(least)),
    };
    format!("Set the corner posts first, then the others to the string; {tops}.{shallow}")
}
