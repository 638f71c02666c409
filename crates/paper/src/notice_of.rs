//! The notice to the sender, taken from how a job stands.

use claim::Act;
use tally::{About, Condition, Conditioned, MarkDifference, Standing, Verdict};

use crate::letter::Missing;
use crate::letter_facts::{
    HARM, LetterFacts, Reader, carriage_of, cause_and_check, conditions, over, sender_words, short,
};
use crate::sender_notice::{NoticeRow, SenderNotice};

/// Returns the notice of what is short, over and wrong to the sender; `None` without an order that can be built.
///
/// Only what nothing else explains is called short or over. What differs in the count and is likely there all the same
/// is a remark, with the look that settles it.
pub fn notice_of(standing: &Standing, facts: &LetterFacts<'_>) -> Option<SenderNotice> {
    let difference = standing.difference.as_ref()?;
    let acts = [Act::NoticeToSender, Act::Rejection];
    let mut letter = facts.letter(standing, Reader::Sender, &acts)?;
    let marks = &difference.marks;
    for mark in marks
        .iter()
        .filter(|mark| mark.short() > short(standing, mark))
    {
        let (remark, missing) = explained(standing, mark);
        letter.remarks.push(remark);
        letter.missing.extend(missing);
    }
    let rows = |amount: &dyn Fn(&MarkDifference) -> i64,
                asks: &dyn Fn(&MarkDifference, i64) -> String,
                of: &[Condition],
                about: About|
     -> Vec<NoticeRow> {
        (marks.iter())
            .filter_map(|mark| {
                let amount = amount(mark);
                (amount > 0).then(|| {
                    let answers = facts.answers(standing, about, &mark.mark);
                    NoticeRow {
                        amount,
                        seen: conditions(standing, &mark.mark, of)
                            .map(|seen| facts.sighting(seen))
                            .collect(),
                        asks: with_answers(asks(mark, amount), &answers),
                        ..row(standing, mark, facts)
                    }
                })
            })
            .collect()
    };
    let of_condition = |of: &'static [Condition]| {
        move |mark: &MarkDifference| {
            let seen = conditions(standing, &mark.mark, of);
            seen.map(|seen: &Conditioned| seen.quantity).sum()
        }
    };
    let short_rows = rows(
        &|mark| short(standing, mark),
        &|_, n| format!("send {n}"),
        &[],
        About::Short,
    );
    let over_rows = rows(
        &|mark| over(standing, mark),
        &|_, _| "say whether they may be kept or go back".into(),
        &[],
        About::Over,
    );
    let wrong = rows(
        &of_condition(&[Condition::Wrong]),
        &|mark, n| format!("send {n} {}, and say what becomes of what came", mark.mark),
        &[Condition::Wrong],
        About::Unfit,
    );
    let damaged = rows(
        &of_condition(&HARM),
        &|_, _| "say how they are made good".into(),
        &HARM,
        About::Unfit,
    );
    let to_come = rows(&coming, &|_, _| String::new(), &[], About::Other);
    let told = [&short_rows, &over_rows, &wrong, &damaged];
    let told: Vec<&str> = (told.into_iter().flatten().map(|row| row.mark.as_str())).collect();
    let photos = facts.photos(standing, None, &told);
    let uncounted = (marks.iter())
        .filter(|mark| {
            mark.verdicts
                .iter()
                .any(|v| matches!(v, Verdict::NotCounted(_)))
        })
        .map(|mark| mark.mark.clone());
    Some(SenderNotice {
        letter,
        shipments: shipments(standing, facts),
        uncounted: uncounted.collect(),
        short: short_rows,
        over: over_rows,
        wrong,
        damaged,
        to_come,
        photos,
    })
}

fn row(standing: &Standing, mark: &MarkDifference, facts: &LetterFacts<'_>) -> NoticeRow {
    let (cause, check) = cause_and_check(standing, &mark.mark);
    NoticeRow {
        mark: mark.mark.clone(),
        description: mark.description.clone(),
        sender: sender_words(mark),
        needed: Some(mark.needed),
        listed: mark.listed,
        counted: mark.on_hand.is_counted().then_some(mark.on_hand.counted),
        cause,
        check,
        readings: facts.readings(standing, &mark.mark),
        ..NoticeRow::default()
    }
}

/// What is short in the count and likely there: as a remark, and as the check that this paper is better with.
fn explained(standing: &Standing, mark: &MarkDifference) -> (String, Option<Missing>) {
    let (cause, check) = cause_and_check(standing, &mark.mark);
    let remark = format!(
        "{}: {} by the count; likely: {cause}. Not called short before that was looked at.",
        mark.mark,
        (mark.verdicts.iter().map(Verdict::in_words))
            .collect::<Vec<_>>()
            .join("; ")
    );
    let missing = (!check.is_empty()).then(|| Missing {
        must: false,
        ..Missing::of(format!("a look at {}", mark.mark), check)
    });
    (remark, missing)
}

fn coming(mark: &MarkDifference) -> i64 {
    let comes = |verdict: &Verdict| match verdict {
        Verdict::Comes { quantity, .. } => *quantity,
        _ => 0,
    };
    mark.verdicts.iter().map(comes).sum()
}

fn with_answers(asks: String, answers: &[String]) -> String {
    match answers {
        [] => asks,
        answers => format!("{asks}. Your answer so far: {}", answers.join("; ")),
    }
}

/// The shipments that came, and when.
fn shipments(standing: &Standing, facts: &LetterFacts<'_>) -> Vec<String> {
    (standing.shipments.iter())
        .map(|(name, arrived)| {
            let carriage = carriage_of(standing, name, facts.zone);
            match (arrived, carriage.delivered.as_str()) {
                (true, "") => format!("{name}: came"),
                (true, when) => format!("{name}: came {when}"),
                (false, _) => format!("{name}: not here yet"),
            }
        })
        .collect()
}
