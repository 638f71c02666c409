//! What it costs to take in a photo of 12 megapixels, held against `sha256sum` and ImageMagick on the same file.
//!
//! Ours looks at it, makes the small copy, and puts both into a job file, synchronised to disk; the job file works out the
//! digest, so it is in the sum once. The peer's two programs hash the file and make a small copy, and keep nothing. What it
//! takes to start them is shown too. All are taken in turn, so that whatever else the machine does falls on all alike.
//! `cargo bench -p photo`

use std::error::Error;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use sha2::{Digest, Sha256};
use store::Job;

const RUNS: usize = 21;
const WIDTH: u32 = 4032;
const HEIGHT: u32 = 3024;
const LONGEST_SIDE: u32 = 480;

fn main() -> Result<(), Box<dyn Error>> {
    // The target directory, since /tmp may be memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let file = folder.path().join("photo.jpg");
    let mut job = Job::create(&folder.path().join("garden.job"))?;
    let mut bytes = photo()?;
    let peer = Peer::at(folder.path());
    println!(
        "{:<60}{:>9}{:>9}{:>9}",
        format!(
            "{WIDTH} × {HEIGHT}, {:.1} MB, {RUNS} runs each, ms",
            bytes.len() as f64 / 1e6
        ),
        "least",
        "median",
        "most"
    );

    let mut times = Times::default();
    for run in 0..RUNS {
        // Each is another photo, since a job keeps the same bytes once: its comment, right at the start, changes.
        bytes[6] = run as u8;
        std::fs::write(&file, &bytes)?;
        times.hash.push(timed(|| Ok(Sha256::digest(&bytes)))?.1);
        times
            .share
            .push(timed(|| Ok(photo::without_place(&bytes)?))?.1);
        times.ours(&mut job, &bytes)?;
        if let Some(peer) = &peer {
            peer.run(&mut times, &file)?;
        }
    }
    times.print(peer.is_some());
    Ok(())
}

#[derive(Default)]
struct Times {
    look: Vec<Duration>,
    small: Vec<Duration>,
    keep: Vec<Duration>,
    ours: Vec<Duration>,
    hash: Vec<Duration>,
    share: Vec<Duration>,
    sha256sum: Vec<Duration>,
    magick: Vec<Duration>,
    peer: Vec<Duration>,
    magick_told: Vec<Duration>,
    start: Vec<Duration>,
}

impl Times {
    fn ours(&mut self, job: &mut Job, bytes: &[u8]) -> Result<(), Box<dyn Error>> {
        let (picture, look) = timed(|| Ok(photo::look(bytes)?))?;
        let (small, shrink) = timed(|| Ok(photo::thumbnail(bytes, LONGEST_SIDE)?))?;
        let (_, keep) = timed(|| {
            job.put_document(bytes)?;
            Ok(job.put_document(&small)?)
        })?;
        // It is on its side, and has notes of its place.
        assert!(picture.orientation == 6 && picture.place);
        self.look.push(look);
        self.small.push(shrink);
        self.keep.push(keep);
        self.ours.push(look + shrink + keep);
        Ok(())
    }

    fn print(mut self, with_peer: bool) {
        row("  look", &mut self.look);
        row("  small copy, longest side 480", &mut self.small);
        row("  hash, and keep both in the job file", &mut self.keep);
        let ours = row("taken in", &mut self.ours);
        row("  (SHA-256 alone)", &mut self.hash);
        row("  (a copy to share, without its place)", &mut self.share);
        if !with_peer {
            println!("sha256sum or ImageMagick is not here: nothing to compare with");
            return;
        }
        row("  sha256sum FILE", &mut self.sha256sum);
        let magick = row(
            "  convert FILE -thumbnail 480x480 out.jpg",
            &mut self.magick,
        );
        let peer = row("sha256sum and ImageMagick", &mut self.peer);
        let start = row("  (to start both: --version, -version)", &mut self.start);
        let told = row(
            "  (convert told beforehand: -define jpeg:size=960x960)",
            &mut self.magick_told,
        );
        println!(
            "ratio, ours / theirs (goal < 1)                    {:>10.2}",
            ours / peer
        );
        println!(
            "  less what it takes to start theirs               {:>10.2}",
            ours / (peer - start)
        );
        println!(
            "  less that, ImageMagick told beforehand           {:>10.2}",
            ours / (peer - start - magick + told)
        );
    }
}

/// The programs that ours is held against.
struct Peer {
    convert: &'static str,
    out: String,
}

impl Peer {
    /// Finds them. The first name is ImageMagick's own binary on Debian, where `convert` may lead through a script.
    fn at(folder: &Path) -> Option<Self> {
        let starts = |name: &str, argument: &str| call(name, &[argument]).is_ok();
        let convert = ["convert-im6.q16", "convert"]
            .into_iter()
            .find(|name| starts(name, "-version"))?;
        starts("sha256sum", "--version").then(|| Self {
            convert,
            out: folder.join("out.jpg").display().to_string(),
        })
    }

    fn run(&self, times: &mut Times, file: &Path) -> Result<(), Box<dyn Error>> {
        let file = file.display().to_string();
        let (file, out) = (file.as_str(), self.out.as_str());
        let shrink = [file, "-thumbnail", "480x480", out];
        let told = [&["-define", "jpeg:size=960x960"], &shrink[..]].concat();
        let ((), hash) = timed(|| call("sha256sum", &[file]))?;
        let ((), magick) = timed(|| call(self.convert, &shrink))?;
        times.sha256sum.push(hash);
        times.magick.push(magick);
        times.peer.push(hash + magick);
        times
            .magick_told
            .push(timed(|| call(self.convert, &told))?.1);
        times.start.push(
            timed(|| {
                call("sha256sum", &["--version"])?;
                call(self.convert, &["-version"])
            })?
            .1,
        );
        Ok(())
    }
}

fn call(program: &str, arguments: &[&str]) -> Result<(), Box<dyn Error>> {
    let status = Command::new(program)
        .args(arguments)
        .stdout(Stdio::null())
        .status()?;
    if !status.success() {
        return Err(format!("{program} ends with {status}").into());
    }
    Ok(())
}

fn timed<T>(
    work: impl FnOnce() -> Result<T, Box<dyn Error>>,
) -> Result<(T, Duration), Box<dyn Error>> {
    let start = Instant::now();
    let done = std::hint::black_box(work()?);
    Ok((done, start.elapsed()))
}

fn row(name: &str, times: &mut [Duration]) -> f64 {
    times.sort();
    let ms = |time: Duration| time.as_secs_f64() * 1e3;
    let median = ms(times[times.len() / 2]);
    println!(
        "{name:<60}{:>9.2}{median:>9.2}{:>9.2}",
        ms(times[0]),
        ms(times[times.len() - 1])
    );
    median
}

/// A picture that packs about as a photo does: soft gradients, edges, and a sensor's noise, blurred a little.
fn photo() -> Result<Vec<u8>, Box<dyn Error>> {
    let mut state = 4_u32;
    let mut noise = || {
        // Numerical Recipes' linear congruential generator; four draws added are near enough to a bell (M).
        (0..4)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (state >> 24) as f32 - 127.5
            })
            .sum::<f32>()
            / 14.0
    };
    let mut last = 0.0;
    let pixels = image::RgbImage::from_fn(WIDTH, HEIGHT, |x, y| {
        last = 0.4 * last + 0.6 * noise();
        let (across, down) = (x as f32, y as f32);
        let tube = if (x / 90 + y / 400) % 3 == 0 {
            45.0
        } else {
            0.0
        };
        let light =
            110.0 + 60.0 * (across / 300.0).sin() + 20.0 * (down / 70.0).cos() + tube + last;
        image::Rgb(
            [light, light * 0.93, light * 0.8 + 10.0].map(|colour| colour.clamp(0.0, 255.0) as u8),
        )
    });
    let mut jpeg = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut jpeg, 93).encode_image(&pixels)?;
    Ok([&jpeg[..2], b"\xff\xfe\0\x03\0", &notes(), &jpeg[2..]].concat())
}

/// Notes as a phone writes them, but fewer: it lies on its side, and was taken at sea level.
fn notes() -> Vec<u8> {
    let block: [&[u8]; 9] = [
        b"MM\0\x2a\0\0\0\x08",
        b"\0\x02",
        b"\x01\x12\0\x03\0\0\0\x01\0\x06\0\0",
        b"\x88\x25\0\x04\0\0\0\x01\0\0\0\x26",
        b"\0\0\0\0",
        b"\0\x01",
        b"\0\x06\0\x05\0\0\0\x01\0\0\0\x38",
        b"\0\0\0\0",
        b"\0\0\0\0\0\0\0\x01",
    ];
    let block = block.concat();
    let length = (block.len() as u16 + 8).to_be_bytes();
    [b"\xff\xe1", &length[..], b"Exif\0\0", &block].concat()
}
