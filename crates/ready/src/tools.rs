//! The tools that stages need, put together into one list.

use std::collections::BTreeMap;

use crate::work::StageWork;

/// A tool over several stages.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToolTally {
    /// The tool.
    pub tool: String,
    /// How many the stage needs that needs most; it goes from one stage to the next.
    pub quantity: i64,
    /// How many keep as many people busy as are of use.
    pub useful: i64,
    /// The stages that use it (by index).
    pub stages: Vec<usize>,
}

/// Every tool that the stages need that are still to be done, by its name.
pub fn tools_needed(works: &[StageWork]) -> Vec<ToolTally> {
    let mut tools: BTreeMap<&str, ToolTally> = BTreeMap::new();
    for work in works.iter().filter(|work| !work.done) {
        for need in &work.tools {
            let tally = tools.entry(&need.tool).or_insert_with(|| ToolTally {
                tool: need.tool.clone(),
                quantity: 0,
                useful: 0,
                stages: Vec::new(),
            });
            tally.quantity = tally.quantity.max(need.quantity);
            tally.useful = tally.useful.max(need.useful);
            if !tally.stages.contains(&work.stage) {
                tally.stages.push(work.stage);
            }
        }
    }
    tools.into_values().collect()
}
