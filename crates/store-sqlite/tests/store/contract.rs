//! The contract suite, unchanged.

use crate::fresh::{make, run};

larderwright_store::contract_tests!(run, make);
