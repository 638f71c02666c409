//! At which bows, and on which sides, a rule of the family puts its member.

use crate::expand::{BOTH_SIDES, Raising};
use crate::family_place::At;
use crate::graph::Point;
use crate::rule_file::MemberFile;

impl Raising<'_> {
    /// The bows at which a member stands and its conditions hold, by index from the front.
    pub(crate) fn its_bows(&self, rule: usize, side: usize) -> Vec<i64> {
        let is_rest = self.family.members[rule].bows.is_rest();
        (0..=self.order.bays)
            .filter(|bow| self.stands(rule, *bow, side))
            .filter(|bow| !(is_rest && self.is_taken(rule, *bow, side)))
            .collect()
    }

    fn stands(&self, rule: usize, bow: i64, side: usize) -> bool {
        let member = &self.family.members[rule];
        let end = self.end_of(self.stations[bow as usize]);
        member.bows.has(bow, self.order.bays) && self.order.holds(&member.when, end, side)
    }

    /// Whether a rule above this one puts a member of the same role at a bow.
    fn is_taken(&self, rule: usize, bow: i64, side: usize) -> bool {
        let members = &self.family.members;
        (0..rule)
            .filter(|above| members[*above].role == members[rule].role)
            .any(|above| members[above].sides.has(side) && self.stands(above, bow, side))
    }

    /// The post that stands at a place along the house, on one side.
    pub(crate) fn post_at(&self, y: f64, side: usize) -> Option<usize> {
        self.members.iter().position(|member| {
            let is_there = |top: Point| top.y == y && usize::from(top.x > 0.0) == side;
            self.family.members[member.rule].post.is_some()
                && is_there(member.path.at(&self.profile, member.path.length()))
        })
    }

    /// Whether a rule of another role has put a post there before: a leg stands on one.
    pub(crate) fn is_on_a_post(&mut self, rule: usize, side: usize, bow: i64) -> bool {
        let there = self.post_at(self.stations[bow as usize], side);
        let Some(other) = there.map(|post| self.members[post].role.clone()) else {
            return false;
        };
        let role = &self.family.members[rule].role;
        let what = format!(
            "member `{role}` stands where `{other}` stands already, at bow {}: say which has which `bows`; \"rest\" leaves \
             out what rules for the same role have, not those of another",
            bow + 1
        );
        // One bow will do.
        let at = At::role(rule);
        if !self.troubles.iter().any(|said| said.at == at) {
            self.trouble(at, what);
        }
        true
    }

    /// Whether a post or a bow has its place for itself; says so where it has not.
    pub(crate) fn is_free(&mut self, rule: usize, bow: i64, side: usize) -> bool {
        let is_free = !self.is_taken(rule, bow, side);
        if !is_free {
            let role = &self.family.members[rule].role;
            let what = format!(
                "member `{role}` is there twice at bow {}: two rules for one role must not share a bow; the lower one \
                 may have bows = \"rest\"",
                bow + 1
            );
            self.trouble(At::role(rule), what);
        }
        is_free
    }

    pub(crate) fn its_sides(&self, member: &MemberFile) -> impl Iterator<Item = usize> + use<> {
        let sides = member.sides;
        BOTH_SIDES.into_iter().filter(move |side| sides.has(*side))
    }
}
