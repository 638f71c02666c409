//! Setting out: the strings and posts to scale, what the tape must read, and what the stakes that were measured ask for.

use axum::Extension;
use axum::extract::{Query, State};
use frame::Frame;
use maud::{Markup, PreEscaped, html};
use measure::{Length, System};
use ready::corners::{CORNERS, Corners, PAIRS, SquareUp, corners, corners_svg};
use ready::stakes::{Must, SettingOut, Side, Stake, how, setting_out, setting_out_svg};
use ready::tape::TapeClass;
use tally::{StakeReading, Standing};

use super::layout::{self, Way};
use super::stakes_asked::{Asked, usual_tolerance};
use super::state::Tone;
use crate::access::Holder;
use crate::reply::{Reply, page_reply};
use crate::serve::Yard;

pub(crate) async fn show(
    State(yard): State<Yard>,
    Extension(holder): Extension<Holder>,
    Query(asked): Query<Asked>,
) -> Reply {
    let standing = yard.at_desk(|desk| desk.standing())?;
    let content = match standing.ordered() {
        Some(ordered) => {
            let out = setting_out(&ordered.frame, &asked.set_out(&ordered.frame)?);
            let square_up = asked.square_up(&out)?;
            whole(&standing, &ordered.frame, &out, &square_up, &asked)
        }
        None => html! {
            h1 { "Setting out" }
            div.note { p { "Stakes need an order. " a href="/order" { "Say what was bought" } " first." } }
        },
    };
    Ok(page_reply(layout::page(
        &standing,
        &holder,
        Way::Ready,
        "Setting out",
        content,
    )))
}

fn whole(
    standing: &Standing,
    frame: &Frame,
    out: &SettingOut,
    square_up: &SquareUp,
    asked: &Asked,
) -> Markup {
    let read = standing.state.plans.stakes.as_ref();
    let readings = read.map_or(&[][..], |read| &read.readings[..]);
    html! {
        h1 { "Setting out" }
        p { "Where every post stands, what the tape must read, and which stake to move. The sender's own drawings and local codes come first." }
        div.note.wait { p { (Tone::Wait.says("Before anything is driven")) "Have buried lines marked, and look up for wires. Ear and eye protection at the posts; stand aside of a tight string." } }
        h2 id="measured" { "What you measured" }
        (answer(readings, square_up))
        (form(readings, out, asked))
        h2 { "To scale" }
        div.drawing.wide tabindex="0" { (PreEscaped(setting_out_svg(out))) }
        h2 { "What the tape must read" }
        (musts(out))
        details { summary { "Step by step" } (steps(out)) }
        h2 { "Each post" }
        (posts(frame, out))
        details.no-print {
            summary { "Your tape, your ground" }
            (settings(out, asked, square_up))
        }
        p.row.no-print { a.button href="/unloading" { "Unloading" } a.button href="/lifting" { "Lifting" } a.button href="/drawings" { "Drawings" } }
    }
}

/// What was measured, answered in words and drawn.
fn answer(readings: &[StakeReading], square_up: &SquareUp) -> Markup {
    if readings.is_empty() {
        return html! {
            p { "Measure the four sides and both diagonals between the corner stakes, with one tape and the same pull. Five lengths will do; six check each other." }
        };
    }
    match corners(readings, square_up) {
        Err(trouble) => html! {
            div.note.short role="status" { p { (Tone::Short.says("These lengths cannot be")) (sentence(&trouble.to_string())) } }
        },
        Ok(corners) => html! {
            div.note.(tone(&corners).class()) role="status" data-answer {
                p { (tone(&corners).says(word(&corners))) (corners.says.first().map_or("", String::as_str)) }
                @if corners.says.len() > 1 { ul { @for says in &corners.says[1..] { li { (says) } } } }
            }
            // With a misread length the stakes are not where it would have them.
            @if corners.blunder.is_none() {
                div.drawing { (PreEscaped(corners_svg(&corners, square_up))) }
                p.soft { "Full stakes stay, rings move. The left string is taken as it is: front left stays where it is, and back left straight back from it. What stakes are off is drawn larger than it is." }
            }
            details {
                summary { "The sums" }
                table.fold {
                    thead { tr { th { "Between" } th { "Measured, level" } th { "More than it fits" } } }
                    tbody {
                        @for residual in &corners.residuals {
                            tr {
                                th scope="row" { (between(residual.between)) }
                                td.wide data-label="Measured, level" { (metres(residual.level, square_up.system)) }
                                td.wide data-label="More than it fits" { (metres(residual.over, square_up.system)) }
                            }
                        }
                    }
                }
                p.soft { "Weighted least squares; misfit " (format!("{:.1}", corners.misfit)) " with " (corners.spare) " to spare." }
            }
        },
    }
}

fn tone(corners: &Corners) -> Tone {
    match (&corners.blunder, corners.agree, corners.within) {
        (Some(_), ..) | (None, false, _) => Tone::Short,
        (None, true, false) => Tone::Wait,
        (None, true, true) => Tone::Good,
    }
}

fn word(corners: &Corners) -> &'static str {
    match tone(corners) {
        Tone::Good => "Square",
        Tone::Wait => "Move stakes",
        _ => "Measure again",
    }
}

fn form(readings: &[StakeReading], out: &SettingOut, asked: &Asked) -> Markup {
    let like = match out.system {
        System::FeetInch => "such as 48' 1/2\" or 48 ft",
        System::Metric => "such as 14.63 or 14630 mm",
    };
    html! {
        form method="post" action="/stakes" data-keep="Stakes measured" {
            input type="hidden" name="id" value=(store::fresh_id());
            @for (name, value) in asked.fields() { @if !value.is_empty() { input type="hidden" name=(name) value=(value); } }
            table.fold {
                thead { tr { th { "Between the stakes" } th { "Should be" } th { "The tape reads, " (like) } th { "The ground rises by, if the tape lay on it" } } }
                tbody {
                    @for (number, pair) in PAIRS.into_iter().enumerate() {
                        @let known = readings.iter().rev().find(|r| is_between(r, pair));
                        @let (length, rise) = (format!("l{number}"), format!("r{number}"));
                        tr {
                            th scope="row" { label for=(length) { (between(pair)) } }
                            td data-label="Should be" { (out.must[number].level.tape(out.system)) }
                            td.wide data-label="The tape reads" { input type="text" id=(length) name=(length) maxlength="40" autocomplete="off" value=[known.map(|r| typed(r.length, out.system))] placeholder=[(number == 0).then_some(like)]; }
                            td.wide data-label="The ground rises by" { input type="text" name=(rise) maxlength="40" autocomplete="off" aria-label={ "Rise from " (between(pair)) } value=[known.and_then(|r| r.rise).map(|rise| typed(rise, out.system))]; }
                        }
                    }
                }
            }
            button.main type="submit" { "What to move" }
        }
    }
}

fn is_between(reading: &StakeReading, [from, to]: [usize; 2]) -> bool {
    let pair = [CORNERS[from], CORNERS[to]];
    pair == [reading.from, reading.to] || pair == [reading.to, reading.from]
}

fn between([from, to]: [usize; 2]) -> String {
    format!("{} to {}", CORNERS[from].in_words(), CORNERS[to].in_words())
}

/// A reading as it can be typed again, to the last nanometre where it is on no tape's grid.
fn typed(nanometres: i64, system: System) -> String {
    let length = Length::nanometres(nanometres);
    let shown = length.tape(system);
    match Length::read(&shown, None) {
        Ok(same) if same == length => shown,
        _ => length.write(system, measure::Grid::NANOMETRE),
    }
}

fn metres(metres: f64, system: System) -> String {
    let grid = measure::Grid::NANOMETRE;
    Length::from_metres(metres, grid).map_or_else(String::new, |length| length.tape(system))
}

fn musts(out: &SettingOut) -> Markup {
    let level = out.asked.fall.is_level();
    html! {
        table.fold {
            thead { tr { th { "Between the strings' corners" } th { "Level" } @if !level { th { "Along the ground" } } } }
            tbody {
                @for must in &out.must { (must_row(must, out.system, level)) }
                @if let Some(t) = out.triangles.first() {
                    tr {
                        th scope="row" { "triangle to square a corner" }
                        td.wide { (t.along.tape(out.system)) " along, " (t.across.tape(out.system)) " across, " (t.slant.tape(out.system)) " from mark to mark" }
                    }
                }
            }
        }
        p { "A difference of the diagonals up to " strong { (out.blind[0].tape(out.system)) } " cannot be told from the tape's own error, up to " (out.blind[1].tape(out.system)) " with two tapes. Equal diagonals prove it square only when opposite sides are equal too." }
        @if !level { p { (Tone::Wait.says("This ground slopes")) "Tapes held along it read more, and the two diagonals differ even when the house is square. Hold the tape level and plumb down, or go by the second column." } }
    }
}

fn must_row(must: &Must, system: System, level: bool) -> Markup {
    html! {
        tr {
            th scope="row" { (must.between) }
            td.wide data-label="Level" { (must.level.tape(system)) }
            @if !level { td.wide data-label="Along the ground" { (must.on_ground.tape(system)) } }
        }
    }
}

fn steps(out: &SettingOut) -> Markup {
    html! {
        ol.steps {
            @for step in how(out) {
                li { (step.says) @if !step.caution.is_empty() { " " strong { (step.caution) } } }
            }
        }
    }
}

/// The marks of each pair of posts, measured from the front stake of their string.
fn posts(frame: &Frame, out: &SettingOut) -> Markup {
    let tape = |length: Length| length.tape(out.system);
    let level = out.asked.fall.is_level();
    let left = out.posts.iter().filter(|post| post.side == Side::Left);
    let pairs: Vec<(&Stake, Option<&Stake>)> = left
        .map(|post| {
            let across = |other: &&Stake| other.bow == post.bow && other.side == Side::Right;
            (post, out.posts.iter().find(across))
        })
        .collect();
    html! {
        p {
            "All from the stake at the front of the string, so that errors do not add up; left and right alike. "
            @if out.offset > Length::ZERO { "Each centre is " (tape(out.offset)) " inside the string, which touches the posts' outer faces. " }
            @else { "The string runs over the posts' middle. " }
    "Bays: " @for (i, bays) in out.bays.iter().enumerate() { @if i > 0 { ", then " } (bays.count) " of " (tape(bays.level)) @if !level { ", " (tape(bays.on_ground)) " along the ground" } } ". "
            "The order's width, " (tape(frame.width)) ", is from post centre to post centre."
        }
        table.fold {
            thead { tr {
                th { "Bow" } th { "Along the string" }
                @if !level { th { "Along the ground" } }
                th { "Left post" } th { "Right post" }
                @if !level { th { "Top below the level line" } }
            } }
            tbody {
                @for (post, right) in pairs {
                    tr {
                        th scope="row" { "bow " (post.bow) }
                        td.wide data-label="Along the string" { (tape(post.along)) }
                        @if !level { td.wide data-label="Along the ground" { (tape(post.on_ground)) } }
                        td.wide data-label="Left" { (height(post, out.system)) }
                        td.wide data-label="Right" { @if let Some(right) = right { (height(right, out.system)) } }
                        @if !level { td.wide data-label="Top below the level line" { @if let Some(level) = post.level { (tape(level.below_line)) } } }
                    }
                }
            }
        }
    }
}

fn height(post: &Stake, system: System) -> Markup {
    let Some(level) = post.level else {
        return html! { "no post" };
    };
    html! {
        (level.above_ground.tape(system)) " out, " (level.in_ground.tape(system)) " in the ground"
        @if level.short_of > Length::millimetres(1) { " " (Tone::Short.says("less than made for: ask the sender")) }
    }
}

fn settings(out: &SettingOut, asked: &Asked, square_up: &SquareUp) -> Markup {
    let usual = usual_tolerance(out.system).tape(out.system);
    html! {
        form method="get" action="/stakes" {
            label for="tape" { "How long the tape is" }
            input type="text" id="tape" name="tape" maxlength="40" value=(out.asked.tape.tape(out.system));
            label for="class" { "Its class" }
            select id="class" name="class" {
                @for class in TapeClass::ALL { option value=(class.key()) selected[class == out.asked.class] { (class.in_words()) } }
            }
            label for="datum" { "Strings run along" }
            select id="datum" name="datum" {
                option value="outside" { "the posts' outer faces" }
                option value="centre" selected[asked.datum == "centre"] { "the posts' middle" }
            }
            label for="along" { "The ground rises from front to back by (- for a fall)" }
            input type="text" id="along" name="along" maxlength="40" value=(asked.along);
            label for="across" { "It rises from left to right by" }
            input type="text" id="across" name="across" maxlength="40" value=(asked.across);
            label for="tops" { "Tops of the posts" }
            select id="tops" name="tops" {
                option value="ground" { "level across, with the ground along the house" }
                option value="level" selected[asked.tops == "level"] { "all on one level" }
            }
            label for="tolerance" { "A side or diagonal may be off by (usually " (usual) "; common practice, no source)" }
            input type="text" id="tolerance" name="tolerance" maxlength="40" value=(square_up.tolerance.tape(out.system));
            button type="submit" { "With these" }
        }
    }
}

/// Words of an error as a sentence.
fn sentence(words: &str) -> String {
    format!("{}.", frame::capitalised(words))
}
