//! The lie of a hose.
