//! The bundle as a file to take away.

use std::fs::File;
use std::io::{self, BufWriter, Read, Seek};

use axum::body::Body;
use axum::extract::{Query, State};
use axum::http::{StatusCode, header};
use axum::response::IntoResponse;
use futures_util::stream::try_unfold;
use maud::{Markup, html};
use store::Job;

use super::papers::Wanted;
use crate::bundle::{self, BundleError};
use crate::desk::DeskError;
use crate::reply::{Failure, Reply};
use crate::serve::Yard;

/// How much of it is in memory at once.
const PIECE: usize = 256 * 1024;

/// What stands on the page of papers.
pub(crate) fn offer(yard: &Yard) -> Result<Markup, DeskError> {
    let bytes = yard.at_desk(|desk| desk.about_bundle())?;
    Ok(html! {
        h2 { "The bundle" }
        p { "All of it in one file for whoever is to check it: these papers, every photo as it came, the lists, the log, the job itself, and a sum of each that shows whether anything was changed." }
        p.row { a.button.main href="/papers/bundle.zip" download="bundle.zip" { "The bundle, about " ((bytes / 1_000_000).max(1)) " MB" } }
        p.soft { "It takes a while with many photos. They are as they came: some phones write into a picture where it was taken. The sender opens it with " code { "tallyard yard bundle.zip" } ", for reading only." }
    })
}

/// The bundle of the job as it stands. It is made away from the desk, on a thread of its own, into a file that goes when
/// it was sent.
pub(crate) async fn zip(State(yard): State<Yard>, Query(wanted): Query<Wanted>) -> Reply {
    let broken = || {
        let status = StatusCode::INTERNAL_SERVER_ERROR;
        Failure::new(status, "The bundle could not be made. Try it again.")
    };
    let _turn = yard.bundles.acquire().await.map_err(|_| broken())?;
    let job = yard.at_desk(|desk| desk.beside())?;
    let sheet = wanted.sheet();
    let made = tokio::task::spawn_blocking(move || make(&job, sheet)).await;
    let (file, bytes) = match made.map_err(|_| broken())? {
        Ok(made) => made,
        Err(Trouble::Bundle(why)) => {
            let says = "The bundle could not be made.";
            return Err(Failure::refused(says).with([in_words(&why)]));
        }
        Err(Trouble::Disk(why)) => {
            let status = StatusCode::SERVICE_UNAVAILABLE;
            let says = format!("There is no room for the bundle on the yard computer: {why}.");
            return Err(Failure::new(status, says));
        }
    };
    let headers = [
        (header::CONTENT_TYPE, "application/zip".to_owned()),
        (header::CONTENT_LENGTH, bytes.to_string()),
        (
            header::CONTENT_DISPOSITION,
            "attachment; filename=\"bundle.zip\"".to_owned(),
        ),
    ];
    Ok((headers, sent(file)).into_response())
}

enum Trouble {
    Bundle(BundleError),
    Disk(io::Error),
}

/// Makes it in a file without a name, and winds that back.
fn make(job: &Job, sheet: paper::Sheet) -> Result<(File, u64), Trouble> {
    let mut file = tempfile::tempfile().map_err(Trouble::Disk)?;
    let to = BufWriter::new(&mut file);
    let folder = std::env::temp_dir();
    let bundled = bundle::bundle(job, sheet, &folder, to, &mut |_| {});
    let bundled = bundled.map_err(Trouble::Bundle)?;
    file.rewind().map_err(Trouble::Disk)?;
    Ok((file, bundled.bytes))
}

/// Where the file lies is nothing for a phone to know.
fn in_words(why: &BundleError) -> String {
    match why {
        BundleError::Store(error) => format!("{}.", frame::capitalised(&error.fault.to_string())),
        BundleError::Paper(..) => why.to_string(),
    }
}

/// A file as an answer, piece by piece.
fn sent(file: File) -> Body {
    Body::from_stream(try_unfold(file, |mut file| async move {
        let read = tokio::task::spawn_blocking(move || {
            let mut piece = vec![0; PIECE];
            let read = file.read(&mut piece)?;
            piece.truncate(read);
            Ok::<_, io::Error>((piece, file))
        });
        let (piece, file) = read.await.map_err(io::Error::other)??;
        Ok::<_, io::Error>((!piece.is_empty()).then_some((piece, file)))
    }))
}
