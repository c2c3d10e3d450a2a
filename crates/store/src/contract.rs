//! The contract suite: what every adapter has to do, case by case. A case takes a function that makes an empty store
//! and panics when the store breaks the contract. [`contract_tests`](crate::contract_tests) turns every case into a test.

pub mod care;
pub mod counting;
pub mod documents;
pub mod exchange;
pub mod folds;
pub mod history;
pub mod keeping;
pub mod plans;
pub mod sample;
pub mod stamps;
pub mod whole;

/// One test for each case of the contract. `$run` runs a future to its end, `$make` makes an empty store.
///
/// ```text
/// larderwright_store::contract_tests!(run, make);
///
/// fn run(case: impl Future<Output = ()>) { ... }
/// async fn make() -> MyStore { ... }
/// ```
#[macro_export]
macro_rules! contract_tests {
    ($run:path, $make:path) => {
        $crate::contract_tests! {
            @each $run, $make,
            keeping {
                an_event_comes_back_as_it_was_sent
                an_event_is_kept_once_by_its_id
                nothing_is_as_good_as_nothing
                a_report_of_the_same_thing_by_another_device_is_known
                a_different_report_under_the_same_id_is_a_finding
                the_earlier_of_two_reports_counts_whichever_arrived_first
                events_are_found_by_what_they_are_about
                events_are_found_by_their_local_dates
                events_are_found_by_their_kinds
                events_are_found_by_their_kinds_since_a_date
                an_unknown_kind_is_bad_input
                the_last_events_come_newest_first_and_say_whether_they_count
                all_events_come_in_the_order_of_arrival_page_by_page
                events_of_another_store_keep_their_clocks
                odd_texts_and_extreme_numbers_come_back
            }
            counting {
                a_correction_takes_the_place_of_what_it_names
                a_correction_that_is_taken_back_gives_back_what_it_took
                a_correction_may_arrive_before_what_it_names
                of_two_corrections_the_later_one_counts_whichever_arrived_first
                a_correction_touches_the_lots_of_both
                a_lot_of_which_nothing_counts_any_more_is_not_there
            }
            folds {
                every_fold_is_that_of_the_events
                any_order_and_repetition_gives_one_state
                mass_in_is_mass_out
                an_overdrawn_lot_is_kept_and_reported
                a_batch_says_what_is_in_the_pot
                the_tick_list_says_what_was_told_last
            }
            stamps {
                a_stamp_is_later_than_any_before_though_the_clock_is_set_back
                a_stamp_is_later_than_any_event_that_arrived
                a_clock_far_ahead_is_replaced_and_kept_beside
                a_replaced_clock_is_replaced_once
                a_day_that_is_longer_or_shorter_loses_no_event
                each_event_lies_in_one_week
                a_device_stays_what_it_is
            }
            plans {
                a_plan_comes_back_as_it_was_kept
                a_plan_whose_text_was_changed_is_refused
                the_first_plan_of_a_week_has_no_parent
                a_plan_made_from_the_current_one_takes_its_place
                a_plan_made_from_an_older_one_is_overtaken
                choosing_the_current_plan_again_changes_nothing
                a_plan_that_is_not_kept_cannot_be_chosen
                weeks_do_not_overtake_each_other
            }
            documents {
                a_document_keeps_every_version
                of_two_writers_the_second_is_overtaken
                documents_have_any_name_and_any_text
            }
            exchange {
                an_export_that_is_read_in_loses_nothing
                an_export_goes_into_an_empty_store_and_an_empty_folder
                an_export_that_was_tampered_with_is_refused_whole
            }
            care {
                a_store_in_use_has_no_defects_but_the_kitchens
                a_device_that_counts_anew_is_noticed
                mending_a_sound_store_changes_nothing
            }
        }
    };
    (@each $run:path, $make:path, $($module:ident { $($case:ident)* })*) => {
        $($(
            #[test]
            fn $case() {
                $run($crate::contract::$module::$case(&async || $make().await));
            }
        )*)*
    };
}

#[cfg(test)]
mod tests {
    use std::pin::pin;
    use std::task::{Context, Poll, Waker};

    use crate::MemoryStore;

    /// Nothing in memory has to be waited for.
    fn run(case: impl Future<Output = ()>) {
        let polled = pin!(case).poll(&mut Context::from_waker(Waker::noop()));
        assert_eq!(polled, Poll::Ready(()));
    }

    async fn make() -> MemoryStore {
        MemoryStore::new()
    }

    crate::contract_tests!(run, make);
}
