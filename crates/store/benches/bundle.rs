//! What a bundle of a job with fifty photos of 3 MB costs, in time and memory, and what looking it over costs; held
//! against general tools that pack and sum up the same files where they lie on the disk already: `zip -0` with
//! `sha256sum`, and Python's zipfile with hashlib. They are taken in turn.
//!
//! `cargo bench -p store --bench bundle`

use std::error::Error;
use std::fs::{self, File};
use std::io::BufWriter;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

use store::{Job, verify_bundle, write_bundle};
use tally::{Draft, Shot, What};

const PHOTOS: u64 = 50;
const PHOTO: usize = 3_000_000;
const RUNS: usize = 5;

const PYTHON: &str = r#"
import hashlib, os, resource, sys, zipfile
sums = []
with zipfile.ZipFile(sys.argv[2], "w", zipfile.ZIP_STORED) as z:
    for name in sorted(os.listdir(sys.argv[1])):
        path = os.path.join(sys.argv[1], name)
        z.write(path, name)
        with open(path, "rb") as f:
            sums.append(hashlib.file_digest(f, "sha256").hexdigest() + "  " + name)
    z.writestr("SHA256SUMS", "\n".join(sums) + "\n")
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"#;

fn main() -> Result<(), Box<dyn Error>> {
    // The target directory, since /tmp may be memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let at = |name: &str| folder.path().join(name);
    let files = at("files");
    fs::create_dir(&files)?;
    let job = fill(&at("garden.tallyard"), &files)?;
    job.copy_to(&files.join("job.tallyard"))?;
    let (mut ours, mut looked, mut zip, mut python) = (vec![], vec![], vec![], vec![]);
    let (mut memory, mut their_memory) = (0, 0);
    for run in 0..RUNS {
        let (bundle, packed) = (at(&format!("{run}.zip")), at(&format!("{run}-zip.zip")));
        forget_peak()?;
        ours.push(timed(|| {
            let snapshot = job.snapshot(folder.path())?;
            let to = BufWriter::new(File::create(&bundle)?);
            write_bundle(&snapshot, &[], |_| "jpg", to, &mut |_| {})?;
            Ok(())
        })?);
        memory = memory.max(peak()?);
        looked.push(timed(|| match verify_bundle(&bundle, None)?.is_well() {
            true => Ok(()),
            false => Err("not well".into()),
        })?);
        zip.push(timed(|| {
            let all = "sha256sum * > ../sums && zip -0 -q \"$0\" * ../sums";
            let mut shell = Command::new("sh");
            let shell = shell.args(["-c", all]).arg(&packed).current_dir(&files);
            shell
                .status()?
                .success()
                .then_some(())
                .ok_or("zip failed".into())
        })?);
        python.push(timed(|| {
            let mut python = Command::new("python3");
            let python = python.args(["-c", PYTHON]).arg(&files);
            let out = python.arg(at(&format!("{run}-python.zip"))).output()?;
            their_memory = String::from_utf8(out.stdout)?.trim().parse::<u64>()?;
            Ok(())
        })?);
        println!("  run {run}: bundle {} bytes", fs::metadata(&bundle)?.len());
        for file in fs::read_dir(folder.path())? {
            let file = file?.path();
            if file.extension().is_some_and(|ending| ending == "zip") {
                fs::remove_file(file)?;
            }
        }
    }
    println!("{PHOTOS} photos of {PHOTO} bytes, median of {RUNS} runs, seconds");
    let ours = row("  bundle: snapshot, zip, sums", &mut ours);
    row("  looking over the whole bundle", &mut looked);
    let zip = row("  sha256sum and zip -0 of files on disk", &mut zip);
    let python = row("  Python zipfile and hashlib of them", &mut python);
    println!(
        "  ratio bundle / zip -0 with sha256sum        {:>8.2}",
        ours / zip
    );
    println!(
        "  ratio bundle / Python                       {:>8.2}",
        ours / python
    );
    println!("  peak memory of this process while bundling  {memory:>8} KiB");
    println!("  peak memory of Python                       {their_memory:>8} KiB");
    Ok(())
}

/// A job with photos that do not pack, and the same photos as files.
fn fill(job: &Path, files: &Path) -> Result<Job, Box<dyn Error>> {
    let mut job = Job::create(job)?;
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    for n in 0..PHOTOS {
        let mut photo = Vec::with_capacity(PHOTO);
        while photo.len() < PHOTO {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            photo.extend(state.to_le_bytes());
        }
        fs::write(files.join(format!("{n:03}.jpg")), &photo)?;
        let what = What::Photographed {
            photo: job.put_document(&photo)?,
            shot: Shot::Other,
            shipment: None,
            mark: None,
            of: None,
            words: String::new(),
        };
        job.append(Draft {
            id: store::fresh_id(),
            device: "phone-1".into(),
            at: store::now(),
            who: "Ines".into(),
            what,
        })?;
    }
    Ok(job)
}

/// Lets Linux forget how much memory this process had at most.
fn forget_peak() -> Result<(), Box<dyn Error>> {
    Ok(fs::write("/proc/self/clear_refs", "5")?)
}

/// The most memory that this process had since, in KiB.
fn peak() -> Result<u64, Box<dyn Error>> {
    let status = fs::read_to_string("/proc/self/status")?;
    let line = status.lines().find(|line| line.starts_with("VmHWM"));
    let kib = line.and_then(|line| line.split_whitespace().nth(1));
    Ok(kib.ok_or("no VmHWM")?.parse()?)
}

fn timed(work: impl FnOnce() -> Result<(), Box<dyn Error>>) -> Result<f64, Box<dyn Error>> {
    let start = Instant::now();
    work()?;
    Ok(start.elapsed().as_secs_f64())
}

/// Prints one row and returns its median.
fn row(name: &str, times: &mut [f64]) -> f64 {
    times.sort_by(f64::total_cmp);
    let median = times[times.len() / 2];
    println!("{name:<44}{median:>8.3}");
    median
}
