//! A display of its own with the real window on it, driven as a person does: by pointer and keys, seen by its pixels, title and
//! log. Everything that was started ends with it, on a panic too.

use super::software::draw_in_software;
use image::RgbImage;
use std::fs::{self, File};
use std::io::{IoSlice, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};
use tempfile::TempDir;
use x11rb::CURRENT_TIME;
use x11rb::connection::{Connection, RequestConnection};
use x11rb::protocol::xproto::{
    ClientMessageEvent, ConnectionExt, EventMask, ImageFormat, InputFocus, MapState, Window as Id,
};
use x11rb::rust_connection::RustConnection;

pub const WIDE: u16 = 1280;
pub const TALL: u16 = 720;

/// For everything that is waited for: the frames are drawn in software, on a machine that may be busy.
const PATIENCE: Duration = Duration::from_secs(100);
const NOW_AND_THEN: Duration = Duration::from_millis(40);
/// How many frames what stands on the display may be behind what was done: some are drawn and shown while the next is laid out.
const FRAMES_BEHIND: usize = 5;

/// Asks again until there is an answer.
#[track_caller]
fn wait<T>(what: &str, told: impl Fn() -> String, mut ask: impl FnMut() -> Option<T>) -> T {
    let began = Instant::now();
    loop {
        if let Some(answer) = ask() {
            return answer;
        }
        assert!(began.elapsed() < PATIENCE, "waited in vain for {what}; the log:\n{}", short(&told()));
        sleep(NOW_AND_THEN);
    }
}

/// The log's last lines, without reports.
pub fn short(log: &str) -> String {
    let lines: Vec<&str> = log
        .lines()
        .filter(|line| (line.contains(" plumbrise::") && !line.contains("TRACE")) || line.contains("panicked"))
        .collect();
    lines.iter().skip(lines.len().saturating_sub(40)).map(|line| format!("  {line}\n")).collect()
}

/// Ends with whoever started it.
struct Started(Child);

impl Drop for Window<'_> {
    /// A test that fails leaves what was seen last.
    fn drop(&mut self) {
        if std::thread::panicking() {
            let seen = Path::new(env!("CARGO_TARGET_TMPDIR")).join("window.last.png");
            if self.picture().save(&seen).is_ok() {
                eprintln!("seen last: {}", seen.display());
            }
        }
    }
}

impl Drop for Started {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// A virtual display. No other program is on it, no window manager either.
pub struct Display {
    name: String,
    connection: RustConnection,
    root: Id,
    /// Major opcode of the extension that makes input (XTEST).
    input: u8,
    keys: Vec<(u32, u8, bool)>,
    _server: Started,
}

impl Display {
    pub fn start() -> Self {
        let screen = format!("{WIDE}x{TALL}x24");
        let mut server = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", &screen, "-nolisten", "tcp", "-terminate"])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb starts");
        let mut out = server.stdout.take().expect("its output is piped");
        let server = Started(server);
        // It tells its number when it is ready, or ends.
        let mut number = String::new();
        let mut byte = [0];
        while out.read(&mut byte).is_ok_and(|read| read == 1) && byte[0] != b'\n' {
            number.push(char::from(byte[0]));
        }
        assert!(!number.is_empty(), "Xvfb ended before it was ready");
        let name = format!(":{}", number.trim());
        let (connection, screen) = x11rb::connect(Some(&name)).expect("the display answers");
        let root = connection.setup().roots[screen].root;
        let extension = connection.query_extension(b"XTEST").unwrap().reply().unwrap();
        assert!(extension.present, "the display has no XTEST");
        let keys = keys(&connection);
        Self { name, connection, root, input: extension.major_opcode, keys, _server: server }
    }

    /// One event of the pointer or the keyboard, as if a device had made it.
    fn make(&self, event: u8, detail: u8, [x, y]: [i16; 2]) {
        const FAKE_INPUT: u8 = 2;
        let mut request = vec![self.input, FAKE_INPUT, 9, 0, event, detail];
        request[2..4].copy_from_slice(&9_u16.to_ne_bytes());
        request.resize(24, 0);
        request.extend([x.to_ne_bytes(), y.to_ne_bytes()].concat());
        request.resize(36, 0);
        self.connection.send_request_without_reply(&[IoSlice::new(&request)], Vec::new()).unwrap().check().unwrap();
    }

    fn focus(&self, id: Id) {
        self.connection.set_input_focus(InputFocus::PARENT, id, CURRENT_TIME).unwrap().check().unwrap();
    }

    /// Tells the window something that window managers tell.
    fn tell(&self, id: Id, what: &str) {
        let data = [self.atom(what), CURRENT_TIME, id, 0, 0];
        let event = ClientMessageEvent::new(32, id, self.atom("WM_PROTOCOLS"), data);
        self.connection.send_event(false, id, EventMask::NO_EVENT, event).unwrap().check().unwrap();
    }

    fn picture(&self) -> RgbImage {
        let reply = self.connection.get_image(ImageFormat::Z_PIXMAP, self.root, 0, 0, WIDE, TALL, !0);
        let data = reply.unwrap().reply().unwrap().data;
        let pixels = data.chunks_exact(4).flat_map(|p| [p[2], p[1], p[0]]).collect();
        RgbImage::from_raw(WIDE.into(), TALL.into(), pixels).expect("32 bits a pixel")
    }

    fn atom(&self, name: &str) -> u32 {
        self.connection.intern_atom(false, name.as_bytes()).unwrap().reply().unwrap().atom
    }

    fn title(&self, id: Id) -> Option<String> {
        let (name, text) = (self.atom("_NET_WM_NAME"), self.atom("UTF8_STRING"));
        let reply = self.connection.get_property(false, id, name, text, 0, 1024).ok()?.reply().ok()?;
        String::from_utf8(reply.value).ok()
    }

    /// The window that can be seen and has a title.
    fn window(&self) -> Option<Id> {
        let children = self.connection.query_tree(self.root).ok()?.reply().ok()?.children;
        children.into_iter().find(|id| {
            let attributes = self.connection.get_window_attributes(*id).ok().and_then(|cookie| cookie.reply().ok());
            attributes.is_some_and(|a| a.map_state == MapState::VIEWABLE)
                && self.title(*id).is_some_and(|title| title.ends_with("Plumbrise"))
        })
    }
}

/// Each key symbol with its key, and whether it is with shift.
fn keys(connection: &RustConnection) -> Vec<(u32, u8, bool)> {
    let setup = connection.setup();
    let (first, last) = (setup.min_keycode, setup.max_keycode);
    let mapping = connection.get_keyboard_mapping(first, last - first + 1).unwrap().reply().unwrap();
    let each = usize::from(mapping.keysyms_per_keycode);
    let of_key = |(row, code): (&[u32], u8)| {
        let shifted = row.iter().take(2).zip([false, true]);
        shifted.map(|(symbol, shift)| (*symbol, code, shift)).collect::<Vec<_>>()
    };
    mapping.keysyms.chunks(each).zip(first..=last).flat_map(of_key).collect()
}

/// The program with its window, on a file in a folder of its own.
pub struct Window<'d> {
    display: &'d Display,
    id: Id,
    log: PathBuf,
    program: Started,
}

impl<'d> Window<'d> {
    /// Opens the scene and waits until it is drawn and answers.
    #[track_caller]
    pub fn open(display: &'d Display, folder: &TempDir, scene: &str) -> Self {
        let log = folder.path().join("log");
        let out = File::create(&log).unwrap();
        let mut command = program(folder.path());
        command.arg(scene).env("DISPLAY", &display.name).env("RUST_LOG", "error,plumbrise=trace");
        let program = command.stdin(Stdio::null()).stdout(out.try_clone().unwrap()).stderr(out).spawn().unwrap();
        let mut window = Self { display, id: 0, log, program: Started(program) };
        window.id = wait("the window", || window.log(), || display.window());
        let lit = |picture: &RgbImage| picture.pixels().filter(|pixel| pixel.0 != [0; 3]).count() * 2;
        window.shows("something in the window", |picture| lit(picture) > usize::from(WIDE) * usize::from(TALL));
        window.told(0, "checked: ");
        display.focus(window.id);
        window.point(PARKED);
        // It is there for whoever sits before it once a key does something.
        for (key, step) in [("Right", "step 2, "), ("Home", "step 1, ")] {
            let mark = window.mark();
            window.key(key);
            window.told(mark, step);
        }
        window
    }

    pub fn title(&self) -> String {
        self.display.title(self.id).unwrap_or_default()
    }

    #[track_caller]
    pub fn titled(&self, title: &str) {
        wait(&format!("the title {title:?}"), || self.title(), || (self.title() == title).then_some(()));
    }

    pub fn log(&self) -> String {
        String::from_utf8_lossy(&fs::read(&self.log).unwrap_or_default()).into_owned()
    }

    /// How far the log goes now; what is told after it is what came of what was done after it.
    pub fn mark(&self) -> usize {
        self.log().len()
    }

    /// The line of the log, from the mark on, that says this.
    pub fn has_told(&self, mark: usize, what: &str) -> Option<String> {
        self.log().get(mark..)?.lines().find(|line| line.contains(what)).map(str::to_owned)
    }

    /// The same, once it is there.
    #[track_caller]
    pub fn told(&self, mark: usize, what: &str) -> String {
        wait(&format!("the log to say {what:?}"), || self.log(), || self.has_told(mark, what))
    }

    /// Waits until all that was done so far has been heard: so many frames later.
    #[track_caller]
    pub fn heard(&self) {
        self.frames(3);
    }

    /// Each is brought about by a key that does nothing by itself.
    #[track_caller]
    fn frames(&self, count: usize) {
        for _ in 0..count {
            let mark = self.mark();
            self.key("F9");
            self.told(mark, "a frame");
        }
    }

    /// What stands on the display, once all was heard and nothing moves any more.
    #[track_caller]
    pub fn settled(&self) -> RgbImage {
        self.frames(FRAMES_BEHIND);
        wait(
            "the picture to stand still",
            || self.log(),
            || {
                let before = self.picture();
                self.frames(FRAMES_BEHIND);
                let now = self.picture();
                (now == before).then_some(now)
            },
        )
    }

    pub fn picture(&self) -> RgbImage {
        self.display.picture()
    }

    /// Waits until the picture is one of these.
    #[track_caller]
    pub fn shows(&self, what: &str, like: impl Fn(&RgbImage) -> bool) -> RgbImage {
        wait(what, || self.log(), || Some(self.picture()).filter(|picture| like(picture)))
    }

    pub fn point(&self, at: [i16; 2]) {
        self.display.make(6, 0, at);
    }

    fn button(&self, down: bool) {
        self.display.make(if down { 4 } else { 5 }, 1, [0, 0]);
    }

    pub fn click(&self, at: [i16; 2]) {
        self.point(at);
        self.heard();
        self.button(true);
        self.heard();
        self.button(false);
    }

    /// Presses there and keeps the button down.
    pub fn press(&self, at: [i16; 2]) {
        self.point(at);
        self.heard();
        self.button(true);
    }

    pub fn release(&self) {
        self.button(false);
    }

    /// One key, with the keys that are held meanwhile before it: `Control_L+s`.
    #[track_caller]
    pub fn key(&self, chord: &str) {
        let codes: Vec<u8> = chord.split('+').map(|name| self.key_of(name)).collect();
        for code in &codes {
            self.display.make(2, *code, [0, 0]);
        }
        for code in codes.iter().rev() {
            self.display.make(3, *code, [0, 0]);
        }
    }

    #[track_caller]
    fn key_of(&self, name: &str) -> u8 {
        let symbol = match name {
            "Control_L" => 0xffe3,
            "F9" => 0xffc6,
            "Home" => 0xff50,
            "Left" => 0xff51,
            "Right" => 0xff53,
            "F2" => 0xffbf,
            "F3" => 0xffc0,
            "F4" => 0xffc1,
            "space" => 0x20,
            one if one.len() == 1 => u32::from(one.as_bytes()[0]),
            other => panic!("the driver does not know the key {other}"),
        };
        let key = self.display.keys.iter().find(|(known, _, shift)| *known == symbol && !shift);
        key.unwrap_or_else(|| panic!("the keyboard has no {name}")).1
    }

    /// As the button on a window's frame does; whether the program has ended well.
    #[track_caller]
    pub fn close(mut self) {
        self.display.tell(self.id, "WM_DELETE_WINDOW");
        let log = self.log.clone();
        let told = || String::from_utf8_lossy(&fs::read(&log).unwrap_or_default()).into_owned();
        let status = wait("the program to end", told, || self.program.0.try_wait().unwrap());
        assert!(status.success(), "it ended with {status}; the log:\n{}", short(&self.log()));
    }
}

/// Where the pointer is over nothing.
pub const PARKED: [i16; 2] = [640, 1];

/// The program in this folder, on a graphics device in software where there is one, leaving nothing outside.
pub fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_plumbrise"));
    command.current_dir(folder).env("HOME", folder).env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
    for name in ["XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_RUNTIME_DIR"] {
        command.env(name, folder);
    }
    // Where none were kept the device in software takes up to a minute to make its shaders.
    command.env("MESA_SHADER_CACHE_DIR", Path::new(env!("CARGO_TARGET_TMPDIR")).join("shaders"));
    command.env("NO_COLOR", "1").env("WINIT_X11_SCALE_FACTOR", "1");
    draw_in_software(&mut command);
    command
}

/// What is missing for a window to be opened and seen here.
pub fn missing() -> Option<String> {
    let paths = std::env::var_os("PATH").unwrap_or_default();
    if !std::env::split_paths(&paths).any(|folder| folder.join("Xvfb").is_file()) {
        return Some("Xvfb; install xvfb".to_owned());
    }
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("job.ron"), super::JUNIPER_LANE).unwrap();
    let mut command = program(folder.path());
    let run = command.args(["picture", "job.ron", "-o", "a.png", "--size", "64x64"]).output().unwrap();
    let said = String::from_utf8_lossy(&run.stderr).into_owned();
    said.contains("no graphics device").then(|| "a Vulkan device; install mesa-vulkan-drivers".to_owned())
}
