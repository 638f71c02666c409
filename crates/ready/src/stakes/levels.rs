//! How high the posts stand and how deep, where the ground is not level.

use frame::{Frame, Path};
use measure::Length;

use super::{SetOut, Side, Stake, fine};

/// How the tops of the posts run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Tops {
    /// All as high as each other: posts stand less deep where the ground falls.
    Level,
    /// Level across, and along the house with the ground, at one even slope.
    #[default]
    WithTheGround,
}

/// How high a post stands and how deep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PostLevel {
    /// Its top over the ground beside it.
    pub above_ground: Length,
    /// How much of it is in the ground; less than nothing where it does not reach the ground.
    pub in_ground: Length,
    /// By how much less that is than the family has it.
    pub short_of: Length,
    /// Its top below a level line through the highest top.
    pub below_line: Length,
}

/// Where a post, or a bow without one, stands.
pub(super) struct Foot {
    pub bow: usize,
    pub side: Side,
    /// Metres from the front end bow.
    pub y: f64,
    /// The post (by index); nothing for a bow that stands on the ground.
    pub member: Option<usize>,
    /// Of the post: over the ground and in it, in metres.
    pub stands: Option<[f64; 2]>,
}

/// How far from the side of the house a post's foot may be and still be one of the side's, in metres.
const BESIDE: f64 = 0.05;

/// The posts along both sides from the front, left before right; where a bow has none, its foot.
pub(super) fn feet(frame: &Frame) -> Vec<Foot> {
    let half = frame.width.to_metres() / 2.0;
    let mut feet = Vec::new();
    for (bow, station) in frame.stations.iter().enumerate() {
        let y = station.to_metres();
        for (side, x) in [(Side::Left, -half), (Side::Right, half)] {
            let post = frame
                .members
                .iter()
                .enumerate()
                .find_map(|(index, member)| {
                    let Path::Straight(low, top) = member.path else {
                        return None;
                    };
                    let buried = low.z < -1e-6 && top.z > -1e-9 && (low.y - y).abs() < 1e-6;
                    let share = -low.z / (top.z - low.z);
                    let at_ground = low.x + (top.x - low.x) * share;
                    (buried && (at_ground - x).abs() < BESIDE).then_some((index, [top.z, -low.z]))
                });
            feet.push(Foot {
                bow: bow + 1,
                side,
                y,
                member: post.map(|(index, _)| index),
                stands: post.map(|(_, stands)| stands),
            });
        }
    }
    feet
}

/// Says of each post how high and how deep it stands.
pub(super) fn raise(posts: &mut [Stake], feet: &[Foot], asked: &SetOut) {
    let fall = asked.fall;
    // What of the ground's height the tops follow.
    let carried = |post: &Stake| match asked.tops {
        Tops::Level => 0.0,
        Tops::WithTheGround => fall.along * post.y,
    };
    // Over that, no post stands lower over its ground than the family has it.
    let base = (posts.iter())
        .map(|post| fall.at(post.x, post.y) - carried(post))
        .fold(f64::MIN, f64::max);
    let tops: Vec<Option<f64>> = (posts.iter().zip(feet))
        .map(|(post, foot)| foot.stands.map(|[above, _]| base + carried(post) + above))
        .collect();
    let line = tops.iter().flatten().copied().fold(f64::MIN, f64::max);
    for ((post, foot), top) in posts.iter_mut().zip(feet).zip(tops) {
        let (Some([above, buried]), Some(top)) = (foot.stands, top) else {
            continue;
        };
        let over = top - fall.at(post.x, post.y);
        post.level = Some(PostLevel {
            above_ground: fine(over),
            in_ground: fine(above + buried - over),
            short_of: fine(over - above),
            below_line: fine(line - top),
        });
    }
}
