//! The solver: gives the open measures of a profile's links what follows for them from its ends.

use std::f64::consts::{FRAC_PI_2, PI};

use crate::across::Across;
use crate::closing::{Choice, Extent, Heading, NoChoice, Sum};
use crate::profile::Link;
use crate::profile_asked::{Ask, AskedLink, MOST_METRES, NoProfile, Peak, Shape, must_be_possible};

/// What is nothing, of metres and of radians.
const NOTHING: f64 = 1e-9;

/// How near given measures must come to each other; each is rounded to a nanometre.
const AGREES: f64 = 1e-8;

/// One link with its measures sorted into given and open.
struct Step<'a> {
    name: &'a str,
    is_arc: bool,
    extent: Extent,
    before: Heading,
    after: Heading,
}

/// All links, with what is open in them.
struct Chain<'a> {
    steps: Vec<Step<'a>>,
    open_headings: usize,
    open_extents: usize,
    /// All that is open, in words.
    open: Vec<String>,
    half_width: f64,
    height: f64,
}

/// The links of the left half. See [`crate::Profile::solve`].
pub(crate) fn solve(
    width: f64,
    height: f64,
    peak: Peak,
    asked: &[AskedLink],
) -> Result<Vec<Link>, NoProfile> {
    must_be_possible(width, height, asked)?;
    let chain = Chain::new(width / 2.0, height, asked);
    chain.must_be_settled(peak)?;
    let links = chain.best(peak)?;
    Ok(links)
}

impl<'a> Chain<'a> {
    fn new(half_width: f64, height: f64, asked: &'a [AskedLink]) -> Self {
        let mut chain = Self {
            steps: Vec::with_capacity(asked.len()),
            open_headings: 0,
            open_extents: 0,
            open: Vec::new(),
            half_width,
            height,
        };
        let mut heading = Heading {
            open: 0,
            offset: FRAC_PI_2,
        };
        for (index, link) in asked.iter().enumerate() {
            let name = &link.name;
            if let Some(kink) = link.kink {
                let what = if index == 0 { "lean" } else { "kink before" };
                heading = chain.turned(heading, kink, || match index {
                    0 => format!("the {what} of `{name}`"),
                    _ => format!("the {what} `{name}`"),
                });
            }
            let before = heading;
            let (is_arc, extent, what) = match link.shape {
                Shape::Straight(length) => (false, length, "length"),
                Shape::Arc { radius, turn } => {
                    heading = chain.turned(heading, turn, || format!("the turn of `{name}`"));
                    (true, radius, "radius")
                }
            };
            let extent = chain.extent(extent, || format!("the {what} of `{name}`"));
            chain.steps.push(Step {
                name,
                is_arc,
                extent,
                before,
                after: heading,
            });
        }
        chain
    }

    fn turned(&mut self, from: Heading, turn: Ask, says: impl Fn() -> String) -> Heading {
        match turn {
            Ask::Given(radians) => Heading {
                offset: from.offset - radians,
                ..from
            },
            Ask::Follows => {
                self.open.push(says());
                self.open_headings += 1;
                Heading {
                    open: self.open_headings,
                    offset: 0.0,
                }
            }
        }
    }

    fn extent(&mut self, ask: Ask, says: impl Fn() -> String) -> Extent {
        match ask {
            Ask::Given(metres) => Extent {
                open: 0,
                times: metres,
            },
            Ask::Follows => {
                self.open.push(says());
                self.open_extents += 1;
                Extent {
                    open: self.open_extents,
                    times: 1.0,
                }
            }
        }
    }

    /// Two measures follow from where the chain ends, and a heading from a smooth peak.
    fn must_be_settled(&self, peak: Peak) -> Result<(), NoProfile> {
        let is_levelled = peak == Peak::Smooth && self.open_headings > 0;
        let follow = 2 + usize::from(is_levelled);
        if self.open.len() > follow {
            return Err(NoProfile::TooOpen {
                open: self.open.clone(),
                follow,
            });
        }
        let last = self.steps.last().map(|s| s.after);
        match last {
            Some(last) if peak == Peak::Smooth && !is_levelled && last.offset.abs() > NOTHING => {
                Err(NoProfile::PeakNotSmooth {
                    degrees: last.offset.to_degrees(),
                })
            }
            _ => Ok(()),
        }
    }

    /// Of the ways to close the chain the one that a builder means.
    fn best(&self, peak: Peak) -> Result<Vec<Link>, NoProfile> {
        let start = Across {
            x: -self.half_width,
            z: 0.0,
        };
        let target = Across {
            x: 0.0,
            z: self.height,
        };
        let mut sum = self.sum(start);
        // A smooth peak is level: the heading there is nothing.
        let level = (self.steps.last().map(|s| s.after))
            .filter(|last| peak == Peak::Smooth && last.open > 0);
        if let Some(last) = level {
            sum.fix_last_heading(-last.offset);
        }
        let choices = sum.choices(target).map_err(|why| self.no_choice(why))?;
        let mut ways: Vec<(Choice, Vec<Link>)> = choices
            .into_iter()
            .map(|mut choice| {
                if let Some(last) = level {
                    choice.headings[last.open] = -last.offset;
                }
                let links = self.links(start, &choice);
                (choice, links)
            })
            .collect();
        ways.sort_by(|(one, _), (other, _)| self.prefers(one, other));

        let mut first_trouble = None;
        for (choice, links) in ways {
            match self.trouble(&choice, &links, target, sum.open() < 2) {
                None => return Ok(links),
                Some(trouble) => {
                    first_trouble.get_or_insert(trouble);
                }
            }
        }
        let trouble = first_trouble.unwrap_or_else(|| NoProfile::NotSettled {
            open: self.open.clone(),
        });
        Err(match (self.two_given_arcs(), &trouble) {
            (Some((shoulder, roof)), _) => NoProfile::ArcsBendWrong {
                shoulder,
                roof,
                height: self.height,
                half_width: self.half_width,
            },
            _ => trouble,
        })
    }

    fn sum(&self, start: Across) -> Sum {
        let mut sum = Sum::new(start, self.open_headings, self.open_extents);
        let (ahead, left) = (Across { x: 1.0, z: 0.0 }, Across { x: 0.0, z: 1.0 });
        for step in &self.steps {
            if step.is_arc {
                sum.add(step.extent, left.scaled(-1.0), step.before);
                sum.add(step.extent, left, step.after);
            } else {
                sum.add(step.extent, ahead, step.before);
            }
        }
        sum
    }

    fn links(&self, mut start: Across, choice: &Choice) -> Vec<Link> {
        let mut links = Vec::with_capacity(self.steps.len());
        for step in &self.steps {
            let (heading, after) = (choice.heading(step.before), choice.heading(step.after));
            let extent = choice.extent(step.extent);
            let (radius, length) = if step.is_arc {
                (Some(extent), extent * (heading - after))
            } else {
                (None, extent)
            };
            let link = Link {
                name: step.name.to_owned(),
                start,
                heading,
                radius,
                length,
            };
            start = link.at(length);
            links.push(link);
        }
        links
    }

    /// The fewest degrees kinked outward come first, then the greatest open extents (the flattest arc, the longest
    /// straight), then the least turned. What differs by rounding only, does not differ.
    fn prefers(&self, one: &Choice, other: &Choice) -> std::cmp::Ordering {
        let less = |a: f64, b: f64| {
            if (a - b).abs() <= NOTHING {
                std::cmp::Ordering::Equal
            } else {
                a.total_cmp(&b)
            }
        };
        let outward = |choice: &Choice| -> f64 {
            let joints = self.steps.windows(2);
            joints
                .map(|w| (choice.heading(w[1].before) - choice.heading(w[0].after)).max(0.0))
                .sum()
        };
        let extents = |choice: &Choice| choice.extents[1..].iter().sum::<f64>();
        let turned = |choice: &Choice| choice.headings[1..].iter().map(|h| h.abs()).sum::<f64>();
        less(outward(one), outward(other))
            .then_with(|| less(extents(other), extents(one)))
            .then_with(|| less(turned(one), turned(other)))
    }

    /// What keeps a closed chain from being a profile.
    fn trouble(
        &self,
        choice: &Choice,
        links: &[Link],
        target: Across,
        is_given: bool,
    ) -> Option<NoProfile> {
        let end = links.last().map(|l| l.at(l.length))?;
        let (height, half_width) = (self.height, self.half_width);
        if is_given && !is_within((target - end).length(), AGREES) {
            return Some(self.misses(links, end));
        }
        for (step, link) in self.steps.iter().zip(links) {
            let name = link.name.clone();
            let extent = choice.extent(step.extent);
            if step.extent.open > 0 && !(extent > NOTHING && extent <= MOST_METRES) {
                let what = if step.is_arc { "radius" } else { "length" };
                return Some(NoProfile::ExtentCannotBe {
                    name,
                    what,
                    metres: extent,
                    height,
                    half_width,
                });
            }
            let (before, after) = (choice.heading(step.before), choice.heading(step.after));
            let turn = before - after;
            if step.is_arc && !(turn > NOTHING && turn <= PI + NOTHING) {
                return Some(NoProfile::TurnCannotBe {
                    name,
                    degrees: turn.to_degrees(),
                    height,
                    half_width,
                });
            }
            for heading in [before, after] {
                if !(-NOTHING..=PI + NOTHING).contains(&heading) {
                    return Some(NoProfile::Sinks {
                        name,
                        degrees: heading.to_degrees(),
                        height,
                        half_width,
                    });
                }
            }
            let past = link.at(link.length).x;
            if past > AGREES {
                return Some(NoProfile::PassesMiddle {
                    name,
                    past,
                    half_width,
                });
            }
        }
        // Rounding grows with the largest number that went into the sum.
        let size = (choice.extents[1..].iter())
            .chain(links.iter().filter_map(|l| l.radius.as_ref()))
            .fold(height.max(half_width), |a, b| a.max(b.abs()));
        let is_closed = is_given || is_within((target - end).length(), 1e-12 * size);
        (!is_closed).then(|| NoProfile::NotSettled {
            open: self.open.clone(),
        })
    }

    fn misses(&self, links: &[Link], end: Across) -> NoProfile {
        let (height, half_width) = (self.height, self.half_width);
        let last = links.last();
        let link = last.map_or_else(String::new, |last| {
            let name = &last.name;
            match last.radius {
                Some(radius) => {
                    let degrees = (last.length / radius).to_degrees();
                    format!("`{name}`, an arc of {radius:.3} m over {degrees:.1} degrees")
                }
                None => format!("`{name}`, a straight of {:.3} m", last.length),
            }
        });
        if end.x.abs() <= AGREES {
            NoProfile::MissesHeight {
                link,
                from: last.map_or(0.0, |last| last.start.z),
                reached: end.z,
                height,
                half_width,
            }
        } else {
            NoProfile::MissesMiddle {
                link,
                reached: end.z,
                short: -end.x,
                height,
                half_width,
            }
        }
    }

    fn no_choice(&self, why: NoChoice) -> NoProfile {
        let open = self.open.clone();
        let (height, half_width) = (self.height, self.half_width);
        match (why, self.two_given_arcs()) {
            (NoChoice::NotSettled, _) => NoProfile::NotSettled { open },
            (NoChoice::Misses(miss), Some((shoulder, roof))) => NoProfile::ArcsDoNotMeet {
                shoulder,
                roof,
                height,
                half_width,
                miss,
            },
            (NoChoice::Misses(miss), None) => NoProfile::DoesNotReach {
                open,
                height,
                half_width,
                miss,
            },
        }
    }

    /// The radii, where all that is open are the turns of the last two links, both arcs.
    fn two_given_arcs(&self) -> Option<(f64, f64)> {
        let [.., shoulder, roof] = self.steps.as_slice() else {
            return None;
        };
        let are_open = (self.open_headings, self.open_extents) == (2, 0)
            && shoulder.is_arc
            && roof.is_arc
            && (shoulder.after.open, roof.before.open, roof.after.open) == (1, 1, 2)
            && shoulder.before.open == 0;
        are_open.then_some((shoulder.extent.times, roof.extent.times))
    }
}

/// Never true of what is no number.
fn is_within(off: f64, most: f64) -> bool {
    off <= most
}
