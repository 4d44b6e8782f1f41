//! What can be bought.
