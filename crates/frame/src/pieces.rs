//! Members cut into pieces: bows at named points of the profile, everything else from stock.

use measure::{Grid, Length};

use crate::bend::NoBend;
use crate::cut::{self, Avoid, Stock};
use crate::expand::{BOTH_SIDES, LEFT, NOTHING, Raising, SAW, SIDE_NAMES};
use crate::family_place::At;
use crate::graph::{Path, Piece};
use crate::meet::Meeting;
use crate::part::Mark;
use crate::rule_file::{BowFile, MemberFile};
use crate::why;

/// The word for a bow's last piece, when it runs over the peak to the other side.
pub(crate) const OVER: &str = "over the peak";

impl Raising<'_> {
    /// Length of a part that its places do not settle; said, and nothing, where the family does not give it.
    pub(crate) fn stock_length(&mut self, part: &str) -> Option<f64> {
        let length = self.family.part_file(part).and_then(|p| p.length);
        if length.is_none() {
            self.trouble(
                self.family.part_at(part),
                format!("part `{part}` needs a `length` where it is used"),
            );
        }
        length.map(Length::to_metres)
    }

    /// Bows are cut at named points of the profile; the pieces' lengths follow.
    pub(crate) fn cut_bows(&mut self) {
        for bow in 0..self.members.len() {
            let rule = &self.family.members[self.members[bow].rule];
            let Some(file) = &rule.bow else { continue };
            if self.is_full() {
                return;
            }
            let (Path::Arch { from, to, .. }, role) = (self.members[bow].path, &rule.role) else {
                continue;
            };
            let whole = self.profile.length();
            let feet = [from, whole - to];
            let at = At::member(self.members[bow].rule).field("bow");
            let ends: Vec<f64> = (file.half.iter())
                .map(|piece| self.along_profile(&piece.to, &at, role))
                .collect();
            let name = self.members[bow].name.clone();
            for side in BOTH_SIDES {
                self.cut_leg(bow, side, file, feet, &ends, &name);
            }
            let over = file.half.last().is_some_and(|piece| piece.to.is_word(OVER));
            if !over {
                let peak = whole / 2.0 - from;
                self.join(Meeting::Peak, bow, Some(bow), peak, format!("{name}, peak"));
            }
        }
    }

    /// One half of a bow, from its foot up. What runs over the peak goes with the left half.
    fn cut_leg(
        &mut self,
        bow: usize,
        side: usize,
        file: &BowFile,
        feet: [f64; 2],
        ends: &[f64],
        name: &str,
    ) {
        let whole = self.profile.length();
        let name = format!("{name}, {}", SIDE_NAMES[side]);
        // Counted from the left leg's foot, whichever side it is on.
        let on_bow = |s: f64| {
            if side == LEFT {
                s - feet[0]
            } else {
                whole - s - feet[0]
            }
        };
        let mut from = feet[side];
        let insert = file.insert.unwrap_or_default();
        for (i, (piece, &end)) in file.half.iter().zip(ends).enumerate() {
            if i > 0 {
                let place = format!("{name}, splice {i} from the foot");
                self.join(Meeting::Splice, bow, Some(bow), on_bow(from), place);
            }
            let over = piece.to.is_word(OVER);
            // Over the peak it goes to where the same piece begins on the other side.
            let beyond = if i == 0 { feet[1 - side] } else { from };
            let to = if over { whole - beyond } else { end };
            let shows = to - from;
            if shows < NOTHING {
                let role = &self.members[bow].role;
                let what = format!("member `{role}`: piece `{}` has no length", piece.part);
                let at = At::member(self.members[bow].rule);
                self.trouble(at.field("bow").field("half").nth(i), what);
                return;
            }
            if over && side != LEFT {
                return;
            }
            // A bow of one piece goes into the posts of both sides.
            let into_post = match (i, over) {
                (0, true) => insert * 2,
                (0, false) => insert,
                _ => Length::ZERO,
            };
            let cut_to = self.bend_piece(&piece.part, from, to, into_post);
            let (start, end) = (on_bow(from), on_bow(to));
            let place = match (over, file.half.len()) {
                (true, 1) => self.members[bow].name.clone(),
                (true, _) => format!("{}, over the peak", self.members[bow].name),
                (false, 1) => name.clone(),
                (false, _) => format!("{name}, piece {} from the foot", i + 1),
            };
            self.put(Piece {
                mark: Mark(piece.part.clone()),
                member: bow,
                from: start.min(end),
                to: start.max(end),
                cut_to,
                left_from: None,
                name: place,
            });
            from = to;
        }
    }

    /// A bent piece is as long as what shows of it, and what goes into its neighbours. What it is cut to comes back
    /// where its part has a length, and that is more.
    fn bend_piece(&mut self, part: &str, from: f64, to: f64, into_post: Length) -> Option<Length> {
        let hidden = (self.swages(part) + into_post).to_metres();
        self.derived.length(part, to - from + hidden);
        match self.profile.bend(from, to) {
            Ok(line) if self.derived.bend(part, &line) => {}
            Ok(_) => self.trouble(self.family.part_at(part), format!(
                "part `{part}` would have to be bent to several shapes at once; give each a mark of its own"
            )),
            // A piece with a corner in it is made so, not bent round a former: it has no radii to tell.
            Err(NoBend::Kink { .. }) => {}
            Err(e @ NoBend::NotOnProfile { .. }) => {
                self.trouble(self.family.part_at(part), format!("part `{part}`: {e}"));
            }
        }
        let stock = self.family.part_file(part)?.length?;
        let needed = Length::from_metres(to - from + hidden, Grid::SIXTEENTH)?;
        (needed < stock).then_some(needed)
    }

    /// All other members are cut from stock, in lines or one piece each.
    pub(crate) fn cut_lines(&mut self) {
        for member in 0..self.members.len() {
            if self.is_full() {
                return;
            }
            let rule = &self.family.members[self.members[member].rule];
            let Some(part) = &rule.part else { continue };
            let length = self.members[member].path.length();
            let stock = self.family.part_file(part).and_then(|file| file.length);
            let placed_by_itself =
                rule.level.is_some() || rule.across.is_some() || rule.strut.is_some();
            match stock {
                None if placed_by_itself => {
                    let overall = length + self.swages(part).to_metres();
                    self.derived.length(part, overall);
                    self.whole(member, part, length, None);
                }
                Some(stock) if rule.post.is_some() => {
                    let cut_to = (length < stock.to_metres() - NOTHING).then_some(length);
                    self.whole(member, part, length, cut_to);
                }
                // Both ends of what stands by itself are cut square, so a swage is cut off.
                Some(stock)
                    if length <= (stock - self.swage(part)).to_metres() + NOTHING
                        && (placed_by_itself || rule.upright.is_some()) =>
                {
                    let cut_to = (length < stock.to_metres() - SAW).then_some(length);
                    self.whole(member, part, length, cut_to);
                }
                Some(stock)
                    if rule.upright.is_some()
                        || (placed_by_itself && !self.is_spliced(&rule.role)) =>
                {
                    let what = format!(
                        "member `{}` is {} long, and part `{part}` has only {}",
                        self.members[member].name,
                        why::tape(length, self.order.system),
                        stock.tape(self.order.system)
                    );
                    let at = At::role(self.members[member].rule);
                    // One of its places will do: the others are mostly as long.
                    if !(self.troubles.iter())
                        .any(|said| said.at == at && said.what.contains(" long, and part "))
                    {
                        self.trouble(at, what);
                    }
                }
                _ => self.line(member, rule, part, length),
            }
        }
    }

    fn swage(&self, part: &str) -> Length {
        (self.family.part_file(part)).map_or(Length::ZERO, |file| file.swage())
    }

    /// Of both ends together.
    fn swages(&self, part: &str) -> Length {
        (self.family.part_file(part)).map_or(Length::ZERO, |file| file.swages().sum())
    }

    /// Whether the family says how two pieces of a role are held together.
    fn is_spliced(&self, role: &str) -> bool {
        let spliced = self.family.joints.iter().flat_map(|joint| &joint.splice);
        spliced
            .flat_map(|roles| &roles.0)
            .any(|spliced| spliced == role)
    }

    fn put(&mut self, piece: Piece) {
        if !self.is_full() {
            self.pieces.push(piece);
        }
    }

    fn whole(&mut self, member: usize, part: &str, length: f64, cut_to: Option<f64>) {
        let name = self.members[member].name.clone();
        self.put(Piece {
            mark: Mark(part.into()),
            member,
            from: 0.0,
            to: length,
            cut_to: cut_to.and_then(|m| Length::from_metres(m, Grid::SIXTEENTH)),
            left_from: None,
            name,
        });
    }

    fn line(&mut self, member: usize, rule: &MemberFile, part: &str, length: f64) {
        let swage = self.swage(part);
        let Some(overall) = self.stock_length(part) else {
            return;
        };
        let extension = rule.extension.as_deref();
        let extension_length = extension.and_then(|part| self.stock_length(part));
        if extension.is_some() && extension_length.is_none() {
            return;
        }
        let stock = Stock {
            overall,
            overlap: rule.lap.unwrap_or(swage).to_metres(),
            swaged: rule.lap.is_none() && swage > Length::ZERO,
            extension: extension_length,
        };
        let along_the_house = rule.along.is_some() || rule.follow.is_some();
        let avoid = rule
            .splices_clear
            .filter(|_| along_the_house)
            .map(|clear| Avoid {
                stations: &self.stations,
                clear: clear.to_metres(),
            });
        let Some(runs) = cut::line(length, stock, avoid) else {
            let what = match avoid {
                Some(_) => format!(
                    "member `{}`: no piece of part `{part}` ends far enough from a bow",
                    rule.role
                ),
                None => format!(
                    "part `{part}` is hardly longer than what it laps; no line can be laid of it"
                ),
            };
            self.trouble(At::role(self.members[member].rule), what);
            return;
        };
        let name = self.members[member].name.clone();
        let count = runs.len();
        for (i, run) in runs.iter().enumerate() {
            let place = if count > 1 {
                format!("{name}, piece {} of {count}", i + 1)
            } else {
                name.clone()
            };
            let mark = extension.filter(|_| run.is_extension).unwrap_or(part);
            self.put(Piece {
                mark: Mark(mark.into()),
                member,
                from: run.from,
                to: run.to,
                cut_to: run
                    .cut_to
                    .and_then(|m| Length::from_metres(m, Grid::SIXTEENTH)),
                left_from: None,
                name: place,
            });
            if i > 0 {
                let place = format!("{name}, splice {i}");
                self.join(Meeting::Splice, member, Some(member), run.from, place);
            }
        }
    }
}
