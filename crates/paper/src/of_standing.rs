//! The tally sheet and the drawings, taken from how a job stands.

use frame::{HouseEnd, View};
use tally::{MarkDifference, Ordered, Standing};

use crate::drawings::{Cut, Drawing, Drawings};
use crate::tally_sheet::{TallyGroup, TallyRow, TallySheet};

/// Returns the sheet for counting with a pencil; `None` without an order that can be built.
pub fn tally_sheet_of(standing: &Standing, blind: bool) -> Option<TallySheet> {
    let ordered = standing.ordered()?;
    let difference = standing.difference.as_ref()?;
    let groups = (ordered.parts.stages.iter())
        .map(|stage| TallyGroup {
            name: format!("First needed for {stage}"),
            rows: (ordered.parts.lines.iter())
                .filter(|line| ordered.parts.first_stage(line) == stage)
                .map(|line| TallyRow {
                    mark: line.part.mark.0.clone(),
                    description: line.part.description.clone(),
                    unit: String::new(),
                    should_be: difference
                        .mark(&line.part.mark.0)
                        .map(MarkDifference::expected),
                })
                .collect(),
        })
        .filter(|group: &TallyGroup| !group.rows.is_empty())
        .collect();
    Some(TallySheet {
        job: ordered.order.name.clone(),
        order: order_line(ordered),
        blind,
        groups,
    })
}

/// Returns the drawings of a job's house; `None` without an order that can be built.
pub fn drawings_of(standing: &Standing) -> Option<Drawings> {
    let ordered = standing.ordered()?;
    let frame = &ordered.frame;
    let drawing = |title: String, says: String, svg: String| Drawing { title, says, svg };
    let mut large: Vec<Drawing> = (View::ALL.into_iter())
        .map(|view| {
            let title = format!("From the {}", view.says());
            let says = format!("The frame seen from its {}.", view.says());
            drawing(title, says, frame::isometric(frame, view))
        })
        .collect();
    let tape = |length: measure::Length| length.tape(frame.system);
    let plan = format!(
        "The house from above: {} bows, {} long, {} wide.",
        frame.bows,
        tape(frame.length),
        tape(frame.width)
    );
    large.push(drawing("Plan".into(), plan, frame::plan(frame)));
    for end in HouseEnd::BOTH {
        let title = format!("End elevation, {}", end.says());
        let says = format!(
            "The {} end from outside, {} high.",
            end.says(),
            tape(frame.height)
        );
        large.push(drawing(title, says, frame::end_elevation(frame, end)));
    }
    if let Some(svg) = frame::section(frame) {
        let says = "A bow between the ends, with what stands in its plane.".into();
        large.push(drawing("Section".into(), says, svg));
    }
    let side = "The right side from outside.".into();
    large.push(drawing(
        "Side elevation".into(),
        side,
        frame::side_elevation(frame),
    ));
    for part in &frame.parts {
        if let Some(svg) = frame::bow_flat(frame, &part.mark.0) {
            let title = format!("{}, lying on the ground", part.mark);
            large.push(drawing(title, part.description.clone(), svg));
        }
    }
    let small = (frame::joints_to_detail(frame).into_iter())
        .filter_map(|(kind, says)| {
            let svg = frame::joint_detail(frame, kind)?;
            Some(drawing(
                frame::capitalised(says),
                format!("Joint: {says}."),
                svg,
            ))
        })
        .collect();
    Some(Drawings {
        job: ordered.order.name.clone(),
        order: order_line(ordered),
        large,
        small,
        cuts: cuts(ordered),
    })
}

/// Every piece that is cut in the yard, mark by mark, the longest first: in that order none is cut too short for what
/// its leftover must still give.
fn cuts(ordered: &Ordered) -> Vec<Cut> {
    let mut cuts = Vec::new();
    for line in &ordered.parts.lines {
        let mut places: Vec<_> = (line.places.iter())
            .filter_map(|place| Some((place.cut_to?, place)))
            .collect();
        places.sort_by_key(|(length, _)| std::cmp::Reverse(*length));
        cuts.extend(places.into_iter().map(|(length, place)| Cut {
            mark: line.part.mark.0.clone(),
            to: length.tape(ordered.frame.system),
            place: place.name.clone(),
            left_from: place.left_from.clone().unwrap_or_default(),
        }));
    }
    cuts
}

/// The order in a line: number, family, dimensions, options.
pub(crate) fn order_line(ordered: &Ordered) -> String {
    let frame = &ordered.frame;
    // Of a whole house metres are read, not fourteen thousand millimetres.
    let tape = |length: measure::Length| match frame.system {
        measure::System::Metric => length.write(frame.system, measure::Grid::CENTIMETRE),
        measure::System::FeetInch => length.tape(frame.system),
    };
    let mut said = vec![
        ordered.family.title.clone(),
        format!("{} long", tape(frame.length)),
        format!("bows {} apart", tape(frame.bow_spacing)),
    ];
    let chosen = ordered.order.chosen();
    said.extend(chosen.map(|(option, choice)| format!("{option}: {choice}")));
    let line = said.join(", ");
    match &ordered.order.number {
        Some(number) => format!("{number}: {line}"),
        None => line,
    }
}
