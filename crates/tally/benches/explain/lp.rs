//! A programme as a file in the LP form that general-purpose solvers read. Written from the programme's own meaning and
//! not from the way in which we hand it to our solver.

use std::fmt::Write as _;

use tally::programme::{Column, Programme};

/// The whole file.
pub fn written(programme: &Programme) -> String {
    let mut lp = String::from("Minimize\n cost:");
    let columns = programme.columns.iter().enumerate();
    let used: Vec<(usize, &Column)> = columns.filter(|(_, column)| column.most > 0).collect();
    for (place, column) in &used {
        add(&mut lp, column.fixed, &format!("open{place}"));
        for (step, (_, each)) in steps(column).into_iter().enumerate() {
            add(&mut lp, each, &format!("more{place}s{step}"));
        }
    }
    lp.push_str("\nSubject To\n");
    for (number, target) in programme.targets.iter().enumerate() {
        let mut row = format!(" number{number}:");
        for (place, column) in &used {
            let of_this = column.effects.iter().filter(|(of, _)| *of == number);
            let effect: i64 = of_this.map(|(_, effect)| effect).sum();
            if effect != 0 {
                add(&mut row, effect, &format!("amount{place}"));
            }
        }
        writeln!(lp, "{row} = {target}").expect("a string takes all");
    }
    // The amount is its first unit and all further ones, and there are further ones only after the first.
    for (place, column) in &used {
        write!(lp, " amount_of{place}: amount{place} - open{place}").expect("a string takes all");
        for step in 0..steps(column).len() {
            write!(lp, " - more{place}s{step}").expect("a string takes all");
        }
        lp.push_str(" = 0\n");
        for (step, (most, _)) in steps(column).into_iter().enumerate() {
            writeln!(
                lp,
                " opened{place}s{step}: more{place}s{step} - {most} open{place} <= 0"
            )
            .expect("a string takes all");
        }
    }
    for (set, columns) in programme.one_of.iter().enumerate() {
        let mut row = format!(" one_of{set}:");
        for place in columns
            .iter()
            .filter(|place| programme.columns[**place].most > 0)
        {
            add(&mut row, 1, &format!("open{place}"));
        }
        if row.contains("open") {
            writeln!(lp, "{row} <= 1").expect("a string takes all");
        }
    }
    lp.push_str("Bounds\n");
    let (mut open, mut whole) = (String::new(), String::new());
    for (place, column) in &used {
        writeln!(lp, " 0 <= amount{place} <= {}", column.most).expect("a string takes all");
        write!(open, " open{place}").expect("a string takes all");
        for (step, (most, _)) in steps(column).into_iter().enumerate() {
            writeln!(lp, " 0 <= more{place}s{step} <= {most}").expect("a string takes all");
            write!(whole, " more{place}s{step}").expect("a string takes all");
        }
    }
    lp + "Binary\n" + &open + "\nGeneral\n" + &whole + "\nEnd\n"
}

/// How many further units there can be at each cost.
fn steps(column: &Column) -> Vec<(i64, i64)> {
    let mut left = (column.most - 1).max(0);
    let last = column.further.last().map_or(0, |(_, each)| *each);
    let all = column.further.iter().copied().chain([(i64::MAX, last)]);
    let mut steps = Vec::new();
    for (units, each) in all {
        let units = units.min(left);
        if units > 0 {
            steps.push((units, each));
            left -= units;
        }
    }
    steps
}

fn add(to: &mut String, times: i64, what: &str) {
    let sign = if times < 0 { '-' } else { '+' };
    write!(to, " {sign} {} {what}", times.abs()).expect("a string takes all");
}
