//! The door: what the yard remembers of who came, until it is closed. Nothing of it is needed to find the job as it was.

use std::collections::BTreeMap;
use std::net::{IpAddr, Ipv6Addr};

use crate::code::JoinCode;

/// How many wrong codes an address may show within [`WINDOW`]; people mistype, and a code has 49 bits.
const MOST_WRONG: usize = 10;
/// Milliseconds.
const WINDOW: i64 = 60_000;
/// Of how many addresses wrong codes are remembered.
const MOST_ADDRESSES: usize = 1000;

/// How many phones may be in; twice the twenty that a yard is made for.
pub(crate) const MOST_PHONES: usize = 40;
/// How many more the yard's own computer may bring in, so that it is never the one left outside.
const MORE_AT_TABLE: usize = 8;

/// Whether one more may come in.
pub(crate) fn has_room(phones: usize, at_table: bool) -> bool {
    phones < MOST_PHONES + if at_table { MORE_AT_TABLE } else { 0 }
}

#[derive(Debug, Default)]
pub(crate) struct Door {
    /// When each device last asked for anything.
    seen: BTreeMap<String, i64>,
    /// When each device was shut out, and by whom.
    shut: BTreeMap<String, (i64, String)>,
    /// When each address last showed wrong codes.
    wrong: BTreeMap<IpAddr, Vec<i64>>,
}

/// What came of showing a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Right,
    Wrong,
    /// It was not looked at, right or wrong: too many wrong ones came from there.
    TooOften,
}

impl Door {
    pub fn saw(&mut self, device: &str, now: i64) {
        match self.seen.get_mut(device) {
            Some(seen) => *seen = now,
            None => drop(self.seen.insert(device.into(), now)),
        }
    }

    pub fn last_saw(&self, device: &str) -> Option<i64> {
        self.seen.get(device).copied()
    }

    pub fn shut(&mut self, device: &str, by: &str, now: i64) {
        self.shut.insert(device.into(), (now, by.into()));
    }

    pub fn shut_by(&self, device: &str) -> Option<&(i64, String)> {
        self.shut.get(device)
    }

    /// Looks at a code that someone at an address shows.
    pub fn looks_at(
        &mut self,
        shown: &JoinCode,
        right: &JoinCode,
        from: IpAddr,
        now: i64,
    ) -> Shown {
        let from = household(from);
        self.wrong.retain(|_, tries| {
            tries.retain(|at| (0..WINDOW).contains(&(now - at)));
            !tries.is_empty()
        });
        let before = self.wrong.get(&from).map_or(0, Vec::len);
        if before >= MOST_WRONG {
            return Shown::TooOften;
        }
        if shown.is(right) {
            return Shown::Right;
        }
        if before == 0 && self.wrong.len() >= MOST_ADDRESSES {
            // So many at once are no crew that mistypes.
            return Shown::TooOften;
        }
        self.wrong.entry(from).or_default().push(now);
        Shown::Wrong
    }
}

/// One phone may have any address of its network's 64 bits in IPv6.
fn household(ip: IpAddr) -> IpAddr {
    match ip {
        IpAddr::V4(_) => ip,
        IpAddr::V6(ip) => IpAddr::V6(Ipv6Addr::from_bits(ip.to_bits() >> 64 << 64)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tries(door: &mut Door, code: &str, from: &str, now: i64) -> Shown {
        let right = JoinCode::typed("23456789AB");
        door.looks_at(&JoinCode::typed(code), &right, from.parse().unwrap(), now)
    }

    /// A right code is not looked at either, or waiting would cost a guesser nothing.
    #[test]
    fn ten_wrong_codes_a_minute_and_no_more() {
        let mut door = Door::default();
        for n in 0..10 {
            assert_eq!(tries(&mut door, "WRONG", "10.0.0.5", n), Shown::Wrong);
        }
        let right = "23456-789ab";
        assert_eq!(tries(&mut door, right, "10.0.0.5", 10), Shown::TooOften);
        assert_eq!(tries(&mut door, right, "10.0.0.6", 10), Shown::Right);
        assert_eq!(
            tries(&mut door, right, "10.0.0.5", WINDOW - 1),
            Shown::TooOften
        );
        assert_eq!(tries(&mut door, right, "10.0.0.5", WINDOW), Shown::Right);
        // A clock that is set back keeps nobody out.
        assert_eq!(tries(&mut door, right, "10.0.0.5", -5), Shown::Right);
    }

    #[test]
    fn a_phone_that_changes_its_ipv6_address_is_the_same_phone() {
        let mut door = Door::default();
        for n in 0..10 {
            tries(&mut door, "WRONG", &format!("fd00:1:2:3::{n:x}"), 0);
        }
        assert_eq!(
            tries(&mut door, "WRONG", "fd00:1:2:3:9::1", 0),
            Shown::TooOften
        );
        assert_eq!(tries(&mut door, "WRONG", "fd00:1:2:4::1", 0), Shown::Wrong);
    }

    #[test]
    fn wrong_codes_from_everywhere_do_not_fill_the_memory() {
        let mut door = Door::default();
        for n in 0..5000u32 {
            let from = IpAddr::from(n.to_be_bytes()).to_string();
            tries(&mut door, "WRONG", &from, 0);
        }
        assert_eq!(door.wrong.len(), MOST_ADDRESSES);
        assert_eq!(tries(&mut door, "23456789AB", "10.0.0.5", 0), Shown::Right);
    }

    #[test]
    fn forty_phones_and_room_for_the_table() {
        assert!(has_room(39, false) && !has_room(40, false));
        assert!(has_room(47, true) && !has_room(48, true));
    }
}
