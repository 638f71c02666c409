//! Members cut into pieces: bows at named points of the profile, everything else from stock.

use measure::{Grid, Length};

use crate::cut::{self, Stock};
use crate::expand::{NOTHING, Raising, SIDE_NAMES};
use crate::graph::Piece;
use crate::join::Meeting;
use crate::part::Mark;

impl Raising<'_> {
    /// Length of a part that its places do not settle; said, and nothing, where the family does not give it.
    pub(crate) fn stock_length(&mut self, part: &str) -> Option<f64> {
        let length = self.family.part_file(part).and_then(|p| p.length);
        if length.is_none() {
            self.troubles
                .push(format!("part `{part}` needs a `length` where it is used"));
        }
        length.map(Length::to_metres)
    }

    fn swage(&self, part: &str) -> Length {
        (self.family.part_file(part)).map_or(Length::ZERO, |p| p.swage())
    }

    /// Bows are cut at named points of the profile; the pieces' lengths follow.
    pub(crate) fn cut_bows(&mut self) {
        let family = self.family;
        for (rule, member) in family.members.iter().enumerate() {
            let Some(bow) = &member.bow else { continue };
            let bows = self.indices(|m| m.rule == rule);
            if bows.is_empty() {
                continue;
            }
            let foot = self.post_top();
            let mut cuts: Vec<(Mark, f64, f64)> = Vec::new();
            let mut from = foot;
            for piece in &bow.half {
                let to = self.along_profile(&piece.to, &member.role);
                if to - from < NOTHING {
                    self.troubles.push(format!(
                        "member `{}`: piece `{}` has no length",
                        member.role, piece.part
                    ));
                }
                let swage = self.swage(&piece.part).to_metres();
                self.derived.length(&piece.part, to - from + swage);
                cuts.push((Mark(piece.part.clone()), from, to));
                from = to;
            }
            for member in bows {
                self.cut_bow(member, foot, &cuts);
            }
        }
    }

    fn cut_bow(&mut self, member: usize, foot: f64, cuts: &[(Mark, f64, f64)]) {
        let whole = self.profile.length();
        let name = self.members[member].name.clone();
        for (side, side_name) in SIDE_NAMES.iter().enumerate() {
            for (i, (mark, from, to)) in cuts.iter().enumerate() {
                let (from, to) = if side == 0 {
                    (*from, *to)
                } else {
                    (whole - to, whole - from)
                };
                let which = if cuts.len() > 1 {
                    format!(", piece {} from the foot", i + 1)
                } else {
                    String::new()
                };
                self.put(Piece {
                    mark: mark.clone(),
                    member,
                    from: from - foot,
                    to: to - foot,
                    cut_to: None,
                    left_from: None,
                    name: format!("{name}, {side_name}{which}"),
                });
            }
        }
        let Some((_, inner)) = cuts.split_last() else {
            return;
        };
        for (side, side_name) in SIDE_NAMES.iter().enumerate() {
            for (i, (_, _, to)) in inner.iter().enumerate() {
                let s = if side == 0 { *to } else { whole - to };
                let place = format!("{name}, {side_name}, splice {} from the foot", i + 1);
                self.join(Meeting::Splice, member, Some(member), s - foot, place);
            }
        }
        let peak = whole / 2.0 - foot;
        let place = format!("{name}, peak");
        self.join(Meeting::Splice, member, Some(member), peak, place);
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
            let made_to_measure =
                (self.family.part_file(part)).is_some_and(|file| file.length.is_none());
            if rule.level.is_some() && made_to_measure {
                self.derived.length(part, length);
                self.whole(member, part, length, None);
            } else if rule.post.is_some() {
                self.whole(member, part, length, None);
            } else if rule.upright.is_some() || rule.level.is_some() {
                let Some(stock) = self.stock_length(part) else {
                    continue;
                };
                if length > stock + NOTHING {
                    self.troubles.push(format!(
                        "member `{}` is {length:.3} m long, and part `{part}` has only {stock:.3} m",
                        self.members[member].name
                    ));
                }
                let cut_to = (length < stock - NOTHING).then_some(length);
                self.whole(member, part, length, cut_to);
            } else {
                self.line(member, part, rule.lap, length);
            }
        }
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

    fn line(&mut self, member: usize, part: &str, lap: Option<Length>, length: f64) {
        let swage = self.swage(part);
        let Some(overall) = self.stock_length(part) else {
            return;
        };
        let stock = Stock {
            overall,
            overlap: lap.unwrap_or(swage).to_metres(),
            swaged: lap.is_none() && swage > Length::ZERO,
        };
        let Some(runs) = cut::line(length, stock) else {
            self.troubles.push(format!(
                "part `{part}` is hardly longer than what it laps; no line can be laid of it"
            ));
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
            self.put(Piece {
                mark: Mark(part.into()),
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
