//! The air between one phone and the yard: a relay of TCP that can be out of reach, lose answers, or lead to another
//! server; it counts what it carries.

use std::io::{Read, Write};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

/// How the air is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Air {
    Clear,
    /// Nothing gets through, and the phone is told so at once.
    Gone,
    /// Nothing gets through, and nobody says so.
    Silent,
    /// What the phone sends arrives; what comes back is cut off.
    OneWay,
}

struct Shared {
    air: Mutex<Air>,
    /// `host:port` of the yard.
    yard: Mutex<String>,
    carried: AtomicU64,
    /// What each request waits, in milliseconds.
    latency: AtomicU64,
    /// Bytes a second towards the phone, all connections together; 0 for no limit.
    rate: Mutex<u64>,
}

/// One phone's way to the yard.
pub struct Relay {
    shared: Arc<Shared>,
    pub address: String,
}

impl Relay {
    /// A relay to the yard at this address (`http://…`).
    pub fn to(yard: &str) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}", listener.local_addr().unwrap());
        let shared = Arc::new(Shared {
            air: Mutex::new(Air::Clear),
            yard: Mutex::new(String::new()),
            carried: AtomicU64::new(0),
            latency: AtomicU64::new(0),
            rate: Mutex::new(0),
        });
        let serving = shared.clone();
        // It ends with the test's process.
        thread::spawn(move || {
            for phone in listener.incoming().flatten() {
                serving.carry(phone);
            }
        });
        let relay = Self { shared, address };
        relay.lead_to(yard);
        relay
    }

    /// From now on leads to the yard at this address.
    pub fn lead_to(&self, yard: &str) {
        *self.shared.yard.lock().unwrap() = yard.trim_start_matches("http://").into();
    }

    pub fn set(&self, air: Air) {
        *self.shared.air.lock().unwrap() = air;
    }

    /// Makes the air slow: what each request waits, and how many bytes a second come back.
    pub fn slow(&self, latency: Duration, bytes_a_second: u64) {
        let latency = u64::try_from(latency.as_millis()).unwrap();
        self.shared.latency.store(latency, Ordering::SeqCst);
        *self.shared.rate.lock().unwrap() = bytes_a_second;
    }

    /// Bytes that went to the phone, headers and all.
    pub fn carried(&self) -> u64 {
        self.shared.carried.load(Ordering::SeqCst)
    }
}

impl Shared {
    fn air(&self) -> Air {
        *self.air.lock().unwrap()
    }

    fn delay(&self, bytes: u64, back: bool) {
        if !back {
            thread::sleep(Duration::from_millis(self.latency.load(Ordering::SeqCst)));
            return;
        }
        // Held while it sleeps: the connections share the air.
        let rate = self.rate.lock().unwrap();
        if let Some(millis) = (1000 * bytes).checked_div(*rate) {
            thread::sleep(Duration::from_millis(millis));
        }
    }

    fn carry(self: &Arc<Self>, phone: TcpStream) {
        let yard = self.yard.lock().unwrap().clone();
        let Ok(yard) = TcpStream::connect(yard) else {
            return;
        };
        let (phone_too, yard_too) = (phone.try_clone().unwrap(), yard.try_clone().unwrap());
        let (up, down) = (self.clone(), self.clone());
        thread::spawn(move || up.one_way(phone_too, yard_too, false));
        thread::spawn(move || down.one_way(yard, phone, true));
    }

    fn one_way(&self, mut from: TcpStream, mut to: TcpStream, back: bool) {
        from.set_read_timeout(Some(Duration::from_millis(5)))
            .unwrap();
        let mut buffer = [0; 16 * 1024];
        loop {
            let air = self.air();
            if air == Air::Gone {
                break;
            }
            let read = match from.read(&mut buffer) {
                Ok(0) => break,
                Ok(read) => read,
                Err(e) if e.kind() == std::io::ErrorKind::WouldBlock => continue,
                Err(_) => break,
            };
            match self.air() {
                Air::Silent => continue,
                Air::Gone => break,
                Air::OneWay if back => break,
                Air::Clear | Air::OneWay => {}
            }
            self.delay(read as u64, back);
            if back {
                self.carried.fetch_add(read as u64, Ordering::SeqCst);
            }
            if to.write_all(&buffer[..read]).is_err() {
                break;
            }
        }
        let _ = from.shutdown(Shutdown::Both);
        let _ = to.shutdown(Shutdown::Both);
    }
}
