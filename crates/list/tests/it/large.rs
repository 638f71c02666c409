//! Large files: read or refused within a stated memory, which is measured in a process of its own.

use std::env;
use std::fs;
use std::process::Command;

use list::{Refusal, limits, read};
use rust_xlsxwriter::Workbook;

/// Peak memory of a process that reads the longest list that is read, in MiB. Stated in the crate's documentation.
const PEAK_OF_100_000_ROWS: u64 = 128;
/// The same for a file that comes close to every limit.
const PEAK_OF_THE_WORST: u64 = 400;
/// The same for a workbook of 100 000 rows.
const PEAK_OF_A_WORKBOOK: u64 = 110;
/// The same for a file within the size that is refused for its rows.
const PEAK_OF_A_REFUSAL: u64 = 110;

fn long_list(rows: usize) -> String {
    let mut text = String::from("Code,Qty,Unit,Description,Length,Remarks\n");
    for n in 0..rows {
        text.push_str(&format!(
            "T-{n},{},ea,\"Ground post 1-5/8\"\" 14 ga\",5 ft,bundle {}\n",
            n % 90 + 1,
            n / 40
        ));
    }
    text
}

/// Reads a file in a process of its own; returns what it printed and its peak memory in MiB.
fn read_apart(name: &str, bytes: &[u8]) -> (String, u64) {
    let (outcome, peak, _) = read_apart_timed(name, bytes);
    (outcome, peak)
}

/// The same, and how many milliseconds of a processor the reading took.
pub fn read_apart_timed(name: &str, bytes: &[u8]) -> (String, u64, u128) {
    let path = env::temp_dir().join(format!("list-large-{}-{name}.csv", std::process::id()));
    fs::write(&path, bytes).unwrap();
    let output = Command::new(env::current_exe().unwrap())
        .args([
            "--exact",
            "large::reader_of_its_own",
            "--nocapture",
            "--test-threads=1",
        ])
        .env("LIST_LARGE_FILE", &path)
        .output()
        .unwrap();
    fs::remove_file(&path).unwrap();
    let printed = String::from_utf8(output.stdout).unwrap();
    let of = |key: &str| {
        printed
            .lines()
            .find_map(|line| line.split_once(key))
            .unwrap_or_else(|| panic!("{printed}"))
            .1
            .to_owned()
    };
    let (peak, took) = (of("peak MiB: "), of("busy ms: "));
    (
        of("outcome: "),
        peak.parse().unwrap(),
        took.parse().unwrap(),
    )
}

/// The other process. On its own, without a file to read, it has nothing to do.
#[test]
fn reader_of_its_own() {
    let Ok(path) = env::var("LIST_LARGE_FILE") else {
        return;
    };
    let bytes = fs::read(path).unwrap();
    let start = crate::slow::busy();
    let read = read(&bytes, "large.csv");
    let took = crate::slow::busy() - start;
    let outcome = match read {
        Ok(list) => format!(
            "{} rows, {} set aside",
            list.rows.len(),
            list.set_aside.len()
        ),
        Err(error) => error.to_string(),
    };
    println!("\noutcome: {outcome}");
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))
        .and_then(|kib| kib.trim().split(' ').next()?.parse::<u64>().ok());
    println!("busy ms: {}", took.as_millis());
    println!("peak MiB: {}", peak.unwrap_or(0) / 1024);
}

#[test]
fn a_hundred_thousand_rows_are_read() {
    let (outcome, peak) = read_apart("rows", long_list(100_000).as_bytes());
    assert_eq!(outcome, "100000 rows, 1 set aside");
    assert!(peak <= PEAK_OF_100_000_ROWS, "{peak} MiB");
    println!("100 000 rows: peak {peak} MiB");
}

#[test]
fn the_worst_that_is_read_stays_within_what_is_stated() {
    // Close under every limit at once: bytes, rows and cells.
    let mut text = String::from("Qty,Description,a,b,c,d,e,f,g,h,i,j,k\n");
    for n in 0..149_900 {
        let cell = "remark of some length";
        // Not one after the other: those would be the numbers of lines.
        text.push_str(&format!("{},Ground post", n % 97 + 100));
        (0..8).for_each(|_| text.push_str(&format!(",{cell}")));
        text.push_str(",x,x,x\n");
    }
    assert!(
        text.len() > 28 << 20 && text.len() <= limits::MAX_FILE_BYTES,
        "{}",
        text.len()
    );
    let (outcome, peak) = read_apart("worst", text.as_bytes());
    assert_eq!(outcome, "149900 rows, 1 set aside");
    assert!(peak <= PEAK_OF_THE_WORST, "{peak} MiB");
    println!("the worst that is read: peak {peak} MiB");
}

#[test]
fn a_workbook_of_a_hundred_thousand_rows_is_read() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (column, word) in ["Code", "Qty", "Description"].iter().enumerate() {
        sheet.write_string(0, column as u16, *word).unwrap();
    }
    for n in 1..=100_000u32 {
        sheet.write_string(n, 0, format!("T-{n}")).unwrap();
        sheet.write_number(n, 1, n % 90 + 1).unwrap();
        sheet
            .write_string(n, 2, format!("Ground post, bundle {n}"))
            .unwrap();
    }
    let (outcome, peak) = read_apart("workbook", &book.save_to_buffer().unwrap());
    assert_eq!(outcome, "100000 rows, 1 set aside");
    assert!(peak <= PEAK_OF_A_WORKBOOK, "{peak} MiB");
    println!("100 000 rows of XLSX: peak {peak} MiB");
}

#[test]
fn fifty_megabytes_are_refused() {
    let text = long_list(860_000);
    assert!(text.len() > 50_000_000, "{}", text.len());
    let (outcome, peak) = read_apart("bytes", text.as_bytes());
    assert!(
        outcome.starts_with("large.csv: the file is 4")
            || outcome.starts_with("large.csv: the file is 5"),
        "{outcome}"
    );
    let file = text.len() as u64 >> 20;
    assert!(peak <= file + 30, "{peak} MiB");
    println!("50 MB refused: peak {peak} MiB, of which the file {file}");
}

#[test]
fn too_many_rows_within_the_size_are_refused() {
    let text = "1,a b c\n".repeat(3_000_000);
    let (outcome, peak) = read_apart("short-rows", text.as_bytes());
    assert_eq!(
        outcome,
        "large.csv: the file has more than 150000 rows; send the packing list alone"
    );
    assert!(peak <= PEAK_OF_A_REFUSAL, "{peak} MiB");
    println!("3 000 000 short rows refused: peak {peak} MiB");
}

#[test]
fn too_many_cells_are_refused() {
    let line = format!("{}\n", "1,".repeat(250));
    let text = line.repeat(20_000);
    assert_eq!(
        read(text.as_bytes(), "wide.csv").unwrap_err().why,
        Refusal::TooManyCells
    );
}

#[test]
fn a_list_too_long_to_match_says_so() {
    let list = read(long_list(5_001).as_bytes(), "long").unwrap();
    let matched = list::match_rows(&list, &crate::parts::gothic(), &Default::default());
    assert_eq!(matched.len(), 5_001);
    assert!(matched.iter().all(|m| m.mark.is_none()
        && m.doubt == 1.0
        && m.reasons[0].words.contains("more than 5000 rows")));
}
