//! The rest of the car beside the run at hand: its other runs, and the lists of parts, lines and what is in the way.

use super::draft::{Draft, Touched, put};
use share::json::Value;

/// A run that is not at hand.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Held {
    run: Value,
    touched: Vec<Touched>,
}

impl Held {
    fn of(run: Value) -> Self {
        Self { run, touched: Vec::new() }
    }

    /// Runs as they are kept.
    pub(super) fn kept(held: &[Self]) -> Value {
        let one = |held: &Self| Value::object([("run", held.run.clone()), ("typed", Touched::kept(&held.touched))]);
        Value::Array(held.iter().map(one).collect())
    }
}

/// A name with its number, which the first does without.
fn numbered(name: &str, number: u32) -> String {
    if number == 1 { name.to_owned() } else { format!("{name} {number}") }
}

/// How much of a run is to be said: two spigots, where each points, and where B is.
const NOTHING_SAID: usize = 5;

/// What belongs to the run at hand, of all fields.
const AT_HAND: &str = "/runs/0/";

impl Draft {
    /// Parts the runs of a job that was just read: the first is at hand.
    pub(super) fn part_runs(&mut self) {
        if let Some(runs) = self.job.pointer_mut("/runs").and_then(Value::as_array_mut)
            && runs.len() > 1
        {
            self.after = runs.drain(1..).map(Held::of).collect();
        }
    }

    /// A run that was kept.
    pub(super) fn held(&self, kept: &Value) -> Option<Held> {
        let (run, typed) = (kept.get("run")?, kept.get("typed")?.as_object()?);
        // What was typed is read again in the place of the run at hand.
        let mut at_hand = self.clone();
        put(&mut at_hand.job, "/runs", Value::Array(vec![run.clone()]));
        at_hand.touched.clear();
        at_hand.type_again(typed)?;
        Some(at_hand.take_hand())
    }

    /// The run at hand with what was typed of it.
    fn take_hand(&mut self) -> Held {
        let (touched, others) = std::mem::take(&mut self.touched).into_iter().partition(|t| t.at.starts_with(AT_HAND));
        self.touched = others;
        let runs = self.job.pointer_mut("/runs").and_then(Value::as_array_mut);
        Held { run: runs.and_then(|runs| runs.pop()).unwrap_or_default(), touched }
    }

    fn put_hand(&mut self, held: Held) {
        put(&mut self.job, "/runs", Value::Array(vec![held.run]));
        // Both are sorted by their place.
        for touched in held.touched {
            let place = self.touched.partition_point(|other| other.at < touched.at);
            self.touched.insert(place, touched);
        }
    }

    /// How many runs the car has, and which of them is at hand.
    pub(crate) fn runs(&self) -> (usize, usize) {
        (self.before.len() + 1 + self.after.len(), self.before.len())
    }

    /// A run of the car as it stands in the job file.
    pub(crate) fn run(&self, i: usize) -> Option<&Value> {
        let at = self.before.len();
        match i.checked_sub(at + 1) {
            _ if i == at => self.job.pointer("/runs/0"),
            None => self.before.get(i).map(|held| &held.run),
            Some(behind) => self.after.get(behind).map(|held| &held.run),
        }
    }

    /// What a run of the car is called.
    pub(crate) fn run_name(&self, i: usize) -> String {
        let name = self.run(i).and_then(|run| run.get("name")).and_then(Value::as_str);
        name.map_or_else(|| Self::plain_name(i), str::to_owned)
    }

    /// The runs that take no line's place.
    pub(crate) fn runs_of_no_line(&self) -> Vec<usize> {
        let taken = |run: &usize| {
            let name = self.run(*run).and_then(|run| run.get("name")).and_then(Value::as_str);
            name.is_some() && self.list("lines").iter().any(|line| line.get("run").and_then(Value::as_str) == name)
        };
        (0..self.runs().0).filter(|run| !taken(run)).collect()
    }

    /// Has a run take a line's place; one without a name is called as the line.
    pub(crate) fn put_in_place(&mut self, run: usize, line: usize) {
        self.go_to(run);
        if self.said("/runs/0/name").is_empty() {
            let name = self.new_name(self.said(&format!("/lines/{line}/name")));
            put(&mut self.job, "/runs/0/name", name.into());
        }
        let name = self.said("/runs/0/name").to_owned();
        self.set_at(&format!("/lines/{line}/run"), name.into());
    }

    /// The run of that name.
    pub(crate) fn run_named(&self, name: &str) -> Option<usize> {
        let is_it = |run: &Value| run.get("name").and_then(Value::as_str) == Some(name);
        (0..self.runs().0).find(|i| self.run(*i).is_some_and(is_it))
    }

    /// Takes another run in hand.
    pub(crate) fn go_to(&mut self, i: usize) {
        let (count, at) = self.runs();
        if i >= count || i == at {
            return;
        }
        let hand = self.take_hand();
        let mut all: Vec<Held> = std::mem::take(&mut self.before);
        all.push(hand);
        all.append(&mut self.after);
        self.after = all.split_off(i + 1);
        let hand = all.pop();
        self.before = all;
        if let Some(hand) = hand {
            self.put_hand(hand);
        }
    }

    /// Puts a run behind all others and takes it in hand.
    pub(crate) fn add_run(&mut self, run: Value) {
        self.after.push(Held::of(run));
        self.go_to(self.runs().0 - 1);
    }

    /// A name that no run has yet, made from one.
    pub(crate) fn new_name(&self, like: &str) -> String {
        let like = if like.is_empty() { "run" } else { like };
        let number = (1_u32..).find(|number| self.run_named(&numbered(like, *number)).is_none());
        numbered(like, number.unwrap_or(1))
    }

    /// A copy of a run, behind all others and in hand.
    pub(crate) fn copy_run(&mut self, i: usize) {
        if let Some(mut run) = self.run(i).cloned() {
            put(&mut run, "/name", self.new_name(&self.run_name(i)).into());
            self.add_run(run);
        }
    }

    /// Takes a run away; the last one stays.
    pub(crate) fn take_run_away(&mut self, i: usize) {
        let (count, at) = self.runs();
        if count < 2 || i >= count {
            return;
        }
        if i == at {
            self.go_to(if i + 1 < count { i + 1 } else { i - 1 });
        }
        let at = self.before.len();
        if i < at {
            self.before.remove(i);
        } else {
            self.after.remove(i - at - 1);
        }
    }

    /// The whole car without what the solver has nothing to do with: what was ticked off, and the log.
    pub(crate) fn solved_of_car(&self) -> String {
        let mut job = self.whole();
        put(&mut job, "/system", Value::Null);
        job.to_string()
    }

    /// Moves a run by so many places; the one in hand stays in hand.
    pub(crate) fn move_run(&mut self, i: usize, by: isize) {
        let (count, at) = self.runs();
        let to = i.saturating_add_signed(by).min(count - 1);
        let hand = self.take_hand();
        let mut all: Vec<(bool, Held)> =
            std::mem::take(&mut self.before).into_iter().map(|held| (false, held)).collect();
        all.push((true, hand));
        all.extend(std::mem::take(&mut self.after).into_iter().map(|held| (false, held)));
        if i < count {
            let moved = all.remove(i);
            all.insert(to, moved);
        }
        let at = all.iter().position(|(in_hand, _)| *in_hand).unwrap_or(at);
        let mut all: Vec<Held> = all.into_iter().map(|(_, held)| held).collect();
        self.after = all.split_off(at + 1);
        if let Some(hand) = all.pop() {
            self.put_hand(hand);
        }
        self.before = all;
    }

    /// The whole car as a job file.
    pub(crate) fn whole(&self) -> Value {
        let mut job = self.job.clone();
        let runs = (0..self.runs().0).filter_map(|i| self.run(i)).cloned().collect();
        put(&mut job, "/runs", Value::Array(runs));
        job
    }

    /// Whether there is more than one run: a car, and not just a hose.
    pub(crate) fn is_car(&self) -> bool {
        self.runs().0 > 1 || !self.list("lines").is_empty() || !self.list("parts").is_empty()
    }

    /// What it is called in the list of cars: the car, or else the first run; empty if neither has a name.
    pub(crate) fn car_name(&self) -> String {
        let run = || self.run(0)?.get("name")?.as_str();
        match self.said("/car") {
            "" => run().unwrap_or_default().to_owned(),
            car => car.to_owned(),
        }
    }

    /// Whether nothing has been said yet of its one run.
    pub(crate) fn is_blank(&self) -> bool {
        !self.is_car() && self.touched.is_empty() && self.sketch(0).unsaid().len() == NOTHING_SAID
    }

    /// A list of the car: parts, lines, relations, stock.
    pub(crate) fn list(&self, name: &str) -> &[Value] {
        self.job.get(name).and_then(Value::as_array).unwrap_or_default()
    }

    /// What its lines are called.
    pub(crate) fn line_names(&self) -> Vec<String> {
        let name = |line: &Value| line.get("name").and_then(Value::as_str).unwrap_or_default().to_owned();
        self.list("lines").iter().map(name).collect()
    }

    /// A text in an entry of a list, empty if it is not known.
    pub(crate) fn said(&self, at: &str) -> &str {
        self.job.pointer(at).and_then(Value::as_str).unwrap_or_default()
    }

    /// Adds an entry at the end of a list of the car.
    pub(crate) fn add_entry(&mut self, list: &str, entry: Value) {
        if self.job.get(list).is_none_or(Value::is_null) {
            put(&mut self.job, &format!("/{list}"), Value::Array(Vec::new()));
        }
        let entries = self.job.pointer_mut(&format!("/{list}")).and_then(Value::as_array_mut);
        if let Some(entries) = entries {
            entries.push(entry);
        }
    }

    /// Takes an entry of a list of the car away, or moves it by so many places.
    pub(crate) fn take_entry(&mut self, list: &str, i: usize, move_by: Option<isize>) {
        let at = format!("/{list}");
        if let Some(entries) = self.job.pointer_mut(&at).and_then(Value::as_array_mut)
            && i < entries.len()
        {
            let entry = entries.remove(i);
            if let Some(by) = move_by {
                entries.insert(i.saturating_add_signed(by).min(entries.len()), entry);
            }
            // What was typed belongs to another place now; the values are printed anew.
            self.forget(&at);
        }
    }

    /// A name that no entry of the list has yet, made from one.
    pub(crate) fn new_entry_name(&self, list: &str, like: &str) -> String {
        let taken =
            |name: &str| self.list(list).iter().any(|entry| entry.get("name").and_then(Value::as_str) == Some(name));
        let number = (1_u32..).find(|number| !taken(&numbered(like, *number)));
        numbered(like, number.unwrap_or(1))
    }

    /// The names of the spigots of a part.
    pub(crate) fn spigots_of(&self, part: &str) -> impl Iterator<Item = &str> {
        let is_it = move |entry: &&Value| entry.get("name").and_then(Value::as_str) == Some(part);
        let spigots =
            self.list("parts").iter().find(is_it).and_then(|part| part.get("spigots")).and_then(Value::as_array);
        spigots.unwrap_or_default().iter().filter_map(|spigot| spigot.get("name").and_then(Value::as_str))
    }

    /// Gives a part a further spigot, and tells its name.
    pub(crate) fn add_spigot(&mut self, part: &str) -> Option<String> {
        let number = (1_u32..).find(|number| self.spigots_of(part).all(|name| name != numbered("spigot", *number)))?;
        let is_it = |entry: &Value| entry.get("name").and_then(Value::as_str) == Some(part);
        let place = self.list("parts").iter().position(is_it)?;
        let at = format!("/parts/{place}/spigots");
        if self.job.pointer(&at).is_none_or(Value::is_null) {
            put(&mut self.job, &at, Value::Array(Vec::new()));
        }
        let name = numbered("spigot", number);
        let spigots = self.job.pointer_mut(&at).and_then(Value::as_array_mut)?;
        spigots.push(Value::object([("name", name.as_str().into())]));
        Some(name)
    }

    /// Takes a spigot of a part away.
    pub(crate) fn take_spigot(&mut self, part: usize, k: usize) {
        let at = format!("/parts/{part}/spigots");
        if let Some(spigots) = self.job.pointer_mut(&at).and_then(Value::as_array_mut)
            && k < spigots.len()
        {
            spigots.remove(k);
            self.forget(&at);
        }
    }

    /// Every name that can be said to be in the way: of lines, parts, and of what was said before.
    pub(crate) fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for (list, field) in [("lines", "name"), ("parts", "name"), ("relations", "what"), ("relations", "of")] {
            for name in self.list(list).iter().filter_map(|entry| entry.get(field).and_then(Value::as_str)) {
                if !names.iter().any(|known| known == name) {
                    names.push(name.to_owned());
                }
            }
        }
        names
    }

    /// Begins to measure the hose that takes a line's place: a run with what its spigots are known to be.
    pub(crate) fn measure_line(&mut self, i: usize) {
        let fresh = Self::fresh(Some(self), self.unit);
        let Some(mut run) = fresh.run(0).cloned() else { return };
        let line = self.said(&format!("/lines/{i}/name")).to_owned();
        let name = self.new_name(&line);
        put(&mut run, "/name", name.as_str().into());
        for (end, otherwise) in [("from", "engine"), ("to", "body")] {
            let (part, spigot) =
                (self.said(&format!("/lines/{i}/{end}/part")), self.said(&format!("/lines/{i}/{end}/spigot")));
            let of_part =
                self.list("parts").iter().find(|known| known.get("name").and_then(Value::as_str) == Some(part));
            let known = |name: &str| {
                let all = of_part?.get("spigots")?.as_array()?.iter();
                let mut it = all.filter(|known| known.get("name").and_then(Value::as_str) == Some(spigot));
                it.next()?.get(name).cloned()
            };
            for (field, value) in [
                ("name", (!part.is_empty()).then(|| format!("{part}, {spigot}").into())),
                ("spigot_mm", known("spigot_mm")),
                ("bead_mm", known("bead_mm")),
                ("made_of", known("made_of")),
                ("on", Some(of_part.and_then(|part| part.get("on")).cloned().unwrap_or_else(|| otherwise.into()))),
            ] {
                if let Some(value) = value {
                    put(&mut run, &format!("/{end}/{field}"), value);
                }
            }
        }
        for (old, known) in [("length_mm", "length_mm"), ("bore_mm", "bore_mm")] {
            if let Some(value) = self.job.pointer(&format!("/lines/{i}/{known}")).cloned() {
                put(&mut run, &format!("/replaces/{old}"), value);
            }
        }
        self.set_at(&format!("/lines/{i}/run"), name.into());
        self.add_run(run);
    }

    /// Decides how an open end is closed: by a loop to another spigot of its part, which is a line of its own, or else by
    /// what goes on it.
    pub(crate) fn close(&mut self, part: &str, spigot: &str, kind: &str, loop_to: Option<&str>) {
        if let Some(other) = loop_to {
            let end = |spigot: &str| Value::object([("part", part.into()), ("spigot", spigot.into())]);
            let line = Value::object([
                ("name", self.new_entry_name("lines", "loop").into()),
                ("kind", "hose".into()),
                ("from", end(spigot)),
                ("to", end(other)),
                ("state", "missing".into()),
                ("decision", "universal hose".into()),
            ]);
            self.add_entry("lines", line);
            return;
        }
        self.set_closed(part, spigot, kind.into());
    }

    /// Takes back how an end is closed.
    pub(crate) fn open_again(&mut self, part: &str, spigot: &str) {
        self.set_closed(part, spigot, Value::Null);
    }

    fn set_closed(&mut self, part: &str, spigot: &str, by: Value) {
        let named = |list: &[Value], name: &str| {
            list.iter().position(|entry| entry.get("name").and_then(Value::as_str) == Some(name))
        };
        let Some(i) = named(self.list("parts"), part) else { return };
        let spigots = self.job.pointer(&format!("/parts/{i}/spigots")).and_then(Value::as_array).unwrap_or_default();
        if let Some(k) = named(spigots, spigot) {
            self.set_at(&format!("/parts/{i}/spigots/{k}/closed_by"), by);
        }
    }

    /// Whether something of the lists was ticked off.
    pub(crate) fn is_ticked(&self, key: &str) -> bool {
        let ticked = self.job.pointer("/system/ticked").and_then(Value::as_array).unwrap_or_default();
        ticked.iter().any(|ticked| ticked.as_str() == Some(key))
    }

    /// Ticks it off, or takes that back.
    pub(crate) fn tick(&mut self, key: &str) {
        let at = "/system/ticked";
        if self.job.pointer(at).is_none_or(Value::is_null) {
            put(&mut self.job, at, Value::Array(Vec::new()));
        }
        if let Some(ticked) = self.job.pointer_mut(at).and_then(Value::as_array_mut) {
            match ticked.iter().position(|ticked| ticked.as_str() == Some(key)) {
                Some(place) => drop(ticked.remove(place)),
                None => ticked.push(key.into()),
            }
        }
    }

    /// Writes an entry into the log.
    pub(crate) fn add_to_log(&mut self, entry: Value) {
        let at = "/system/log";
        if self.job.pointer(at).is_none_or(Value::is_null) {
            put(&mut self.job, at, Value::Array(Vec::new()));
        }
        if let Some(log) = self.job.pointer_mut(at).and_then(Value::as_array_mut) {
            log.push(entry);
        }
    }

    /// Takes an entry out of the log.
    pub(crate) fn take_from_log(&mut self, i: usize) {
        if let Some(log) = self.job.pointer_mut("/system/log").and_then(Value::as_array_mut)
            && i < log.len()
        {
            log.remove(i);
        }
    }

    /// Sets a value of the car by a tap; it takes the place of what was typed there.
    pub(crate) fn set_at(&mut self, at: &str, value: Value) {
        self.forget(at);
        self.follow_name(at, &value);
        put(&mut self.job, at, value);
    }

    /// A line or part that is still called as it was when it was added is called after what it is, once that is said.
    pub(super) fn name_by_kind(&mut self, at: &str, before: &str) {
        let steps: Vec<&str> = at.split('/').skip(1).collect();
        let [list @ ("lines" | "parts"), i, "kind"] = steps.as_slice() else { return };
        let (name, kind) = (format!("/{list}/{i}/name"), self.said(at).to_owned());
        let is_plain = |like: &str| {
            self.said(&name)
                .strip_prefix(like)
                .is_some_and(|rest| rest.is_empty() || rest.trim_start().parse::<u32>().is_ok())
        };
        if kind != before
            && !kind.is_empty()
            && [before, "part"].into_iter().filter(|like| !like.is_empty()).any(is_plain)
        {
            let called = self.new_entry_name(list, &kind);
            self.set_at(&name, called.into());
        }
    }

    /// Where something is called another name, what refers to it follows.
    pub(super) fn follow_name(&mut self, at: &str, value: &Value) {
        let Some(new) = value.as_str() else { return };
        let old = self.said(at).to_owned();
        let steps: Vec<&str> = at.split('/').skip(1).collect();
        if old.is_empty() || old == new {
            return;
        }
        let lines = self.list("lines").len();
        let renamed = |draft: &mut Self, at: String| {
            if draft.said(&at) == old {
                put(&mut draft.job, &at, new.into());
            }
        };
        match steps.as_slice() {
            ["runs", "0", "name"] => (0..lines).for_each(|i| renamed(self, format!("/lines/{i}/run"))),
            ["parts", _, "name"] => {
                for i in 0..lines {
                    renamed(self, format!("/lines/{i}/from/part"));
                    renamed(self, format!("/lines/{i}/to/part"));
                }
            }
            ["parts", part, "spigots", _, "name"] => {
                let part = self.said(&format!("/parts/{part}/name")).to_owned();
                for end in (0..lines).flat_map(|i| ["from", "to"].map(|end| format!("/lines/{i}/{end}"))) {
                    if self.said(&format!("{end}/part")) == part {
                        renamed(self, format!("{end}/spigot"));
                    }
                }
            }
            _ => {}
        }
        if matches!(steps.as_slice(), ["parts" | "lines", _, "name"]) {
            for i in 0..self.list("relations").len() {
                renamed(self, format!("/relations/{i}/what"));
                renamed(self, format!("/relations/{i}/of"));
            }
        }
    }
}

#[cfg(test)]
mod tests;
