//! Photographs of a list's pages: their words recognised, their pages kept to look at.

use tokio::sync::Semaphore;

use crate::reply::Failure;
use crate::serve::Yard;

/// One list at a time is recognised: it takes one of the computer's processors for seconds, and phones go on counting.
static TURN: Semaphore = Semaphore::const_new(1);

/// Recognises one list, a picture a page in their order. Returns the list's name and bytes, which are its words; the
/// pages become documents of the job once the words have rows.
pub(crate) async fn recognised(
    yard: &Yard,
    pictures: Vec<(String, Vec<u8>)>,
) -> Result<(String, Vec<u8>), Failure> {
    let first = pictures
        .first()
        .map_or("picture", |(name, _)| name.as_str());
    let name = match pictures.len() {
        0 | 1 => format!("{first}, as read"),
        pages => format!("{first} and {} more, as read", pages - 1),
    };
    let failed = || Failure::refused("The words on the pictures could not be recognised.");
    let turn = TURN.acquire().await.map_err(|_| failed())?;
    let called = name.clone();
    let reading = tokio::task::spawn_blocking(move || {
        let read = ocr::list_of(&pictures).map_err(|why| {
            Failure::refused("The pictures could not be read.").with([why.to_string()])
        })?;
        match list::read(&read.alto, &called) {
            Ok(_) => Ok(read),
            Err(why) => Err(Failure::refused(
                "The words on the pictures were recognised, but they are no packing list.",
            )
            .with([why.why.to_string()].into_iter().chain(read.warnings))),
        }
    });
    let read = reading.await.unwrap_or_else(|_| Err(failed()))?;
    drop(turn);
    for kept in &read.pictures {
        yard.at_desk(|desk| desk.put_document(&kept.jpeg))?;
    }
    Ok((name, read.alto))
}
