//! The three engines the page is tried in: found here, or installed where that is ours to do.

use std::{env, path::PathBuf, process::Command};

use crate::{
    apt,
    command::{on_path, printed_by},
    failure::Failure,
};

/// An engine, by what it is called on the command line and among the specs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Engine {
    Chromium,
    Firefox,
    WebKit,
}

/// One thing an engine's specs need: the variable that hands it to them, and where it may be.
struct Need {
    what: &'static str,
    variable: &'static str,
    places: &'static [&'static str],
    /// Whether what stands in such a place will do.
    will_do: fn(&PathBuf) -> bool,
}

const CHROMIUM: &[Need] = &[Need {
    what: "Chromium",
    variable: "CHROMIUM",
    places: &["chromium", "chromium-browser", "google-chrome"],
    will_do: |_| true,
}];

const FIREFOX: &[Need] =
    &[Need { what: "Firefox", variable: "FIREFOX", places: &["firefox-esr", "firefox"], will_do: |_| true }];

const WEBKIT: &[Need] = &[
    Need { what: "WebKitGTK's WebDriver", variable: "WEBKIT_DRIVER", places: &["WebKitWebDriver"], will_do: |_| true },
    Need { what: "Xvfb, a screen for it,", variable: "XVFB", places: &["Xvfb"], will_do: |_| true },
    Need {
        what: "Python 3 with WebKitGTK, the window for it,",
        variable: "PYTHON",
        // Debian's own before any other: only that one sees Debian's packages.
        places: &["/usr/bin/python3", "python3"],
        will_do: |python| {
            let look = "import gi; gi.require_version('WebKit2', '4.1'); from gi.repository import WebKit2";
            printed_by(Command::new(python).args(["-c", look])).is_some()
        },
    },
];

impl Engine {
    pub(crate) const ALL: [Self; 3] = [Self::Chromium, Self::Firefox, Self::WebKit];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Chromium => "chromium",
            Self::Firefox => "firefox",
            Self::WebKit => "webkit",
        }
    }

    /// The engine a person may do without. Not Chromium: most specs are for it alone.
    pub(crate) fn to_leave_out(name: &str) -> Option<Self> {
        [Self::Firefox, Self::WebKit].into_iter().find(|engine| engine.name() == name)
    }

    fn needs(self) -> &'static [Need] {
        match self {
            Self::Chromium => CHROMIUM,
            Self::Firefox => FIREFOX,
            Self::WebKit => WEBKIT,
        }
    }

    /// The Debian packages that bring it.
    fn packages(self) -> &'static [&'static str] {
        match self {
            Self::Chromium => &["chromium"],
            Self::Firefox => &["firefox-esr"],
            Self::WebKit => &["webkit2gtk-driver", "xvfb", "python3-gi", "gir1.2-webkit2-4.1"],
        }
    }

    /// Finds what the engine's specs need, or installs it; gives the variables that hand it to them.
    ///
    /// # Errors
    /// If something is missing and we may not install it.
    pub(crate) fn bring(self) -> Result<Vec<(&'static str, PathBuf)>, Failure> {
        let packages = self.packages();
        if self.needs().iter().any(|need| need.find().is_none()) && apt::may_install() {
            apt::install(packages)?;
        }
        let found = self.needs().iter().map(|need| {
            let path = need.find().ok_or_else(|| self.missing(need))?;
            println!("{}: {}", need.variable, path.display());
            Ok((need.variable, path))
        });
        found.collect()
    }

    fn missing(self, need: &Need) -> Failure {
        let mut ways = Vec::new();
        if apt::is_here() {
            ways.push(apt::command_for(self.packages()));
        }
        ways.push(format!("install it and set {}=/path/to/it", need.variable));
        if Self::to_leave_out(self.name()).is_some() {
            ways.push(format!("leave it out: cargo xtask test --without {}", self.name()));
        }
        Failure::new(format!("{} is missing", need.what)).remedy(ways.join("; or "))
    }
}

impl Need {
    fn find(&self) -> Option<PathBuf> {
        let said = env::var_os(self.variable).map(PathBuf::from);
        // A path that begins at the root stands for itself among the folders of PATH.
        said.or_else(|| self.places.iter().filter_map(|place| on_path(place)).find(self.will_do))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::Project;

    #[test]
    fn every_engine_has_its_specs_and_packages_and_variables_of_its_own() {
        let project = Project::find().unwrap();
        let mut variables = Vec::new();
        for engine in Engine::ALL {
            assert!(project.path(&crate::browser::engine_spec(engine)).is_file(), "specs of {}", engine.name());
            assert!(!engine.packages().is_empty(), "packages of {}", engine.name());
            variables.extend(engine.needs().iter().map(|need| need.variable));
        }
        let all = variables.len();
        variables.sort_unstable();
        variables.dedup();
        assert_eq!(variables.len(), all, "{variables:?}");
    }

    #[test]
    fn what_is_missing_is_named_with_its_remedy() {
        let webkit = Engine::WebKit.missing(&WEBKIT[0]).to_string();
        assert!(webkit.contains("WEBKIT_DRIVER=/path/to/it"), "{webkit}");
        assert!(webkit.contains("--without webkit"), "{webkit}");
        let chromium = Engine::Chromium.missing(&CHROMIUM[0]).to_string();
        assert!(!chromium.contains("--without"), "most specs are for Chromium: {chromium}");
    }
}
