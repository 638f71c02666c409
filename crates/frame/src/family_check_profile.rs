//! Whether each link of a family's profiles says what it is, once.

use std::collections::BTreeSet;

use crate::family_check::Check;
use crate::family_place::At;

/// Far more links, or pieces of a bow, than a hand would bend.
pub(crate) const MOST_LINKS: usize = 100;

impl Check<'_> {
    pub(crate) fn profiles(&mut self) {
        let family = self.family;
        if family.profile.0.is_empty() {
            self.say(&At::table("profile"), "there is no `profile`".into());
        }
        for (i, profile) in family.profile.0.iter().enumerate() {
            let at = At::table("profile").nth(i);
            self.when(&profile.when, &at, "profile");
            self.not_by_place(&profile.when, &at, "profile");
            if profile.half.len() > MOST_LINKS {
                self.say(
                    &at.field("half"),
                    format!(
                        "profile: there are {} links; at most {MOST_LINKS} are read",
                        profile.half.len()
                    ),
                );
                continue;
            }
            let mut names = BTreeSet::new();
            for (j, link) in profile.half.iter().enumerate() {
                let at = at.field("half").nth(j);
                if link.straight.is_some() == link.arc.is_some() {
                    self.say(
                        &at,
                        format!("profile: `{}` needs either `straight` or `arc`", link.name),
                    );
                }
                if link.turn.is_some() && link.arc.is_none() {
                    self.say(
                        &at.field("turn"),
                        format!("profile: `{}` is no arc, so it does not turn", link.name),
                    );
                }
                if !names.insert(&link.name) {
                    self.say(&at, format!("profile: `{}` is there twice", link.name));
                }
            }
        }
    }
}
