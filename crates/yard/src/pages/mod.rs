//! The pages, one file each, and what they share.

pub(crate) mod again;
pub(crate) mod answer;
pub(crate) mod bundle;
pub(crate) mod conditions;
pub(crate) mod count;
pub(crate) mod dates;
mod days_off;
pub(crate) mod difference;
pub(crate) mod drawings;
pub(crate) mod due;
pub(crate) mod glance;
pub(crate) mod ground;
pub(crate) mod harm_rows;
pub(crate) mod join;
pub(crate) mod labels;
pub(crate) mod laydown;
pub(crate) mod layout;
pub(crate) mod letters;
pub(crate) mod lifting;
pub(crate) mod list;
mod list_aside;
mod list_changes;
pub(crate) mod list_codes;
mod list_rows;
mod list_sent;
pub(crate) mod list_strip;
mod list_twice;
mod list_window;
pub(crate) mod lit;
pub(crate) mod order;
pub(crate) mod paper_list;
pub(crate) mod papers;
pub(crate) mod phones;
pub(crate) mod photos;
pub(crate) mod piles;
pub(crate) mod point_forms;
pub(crate) mod points;
pub(crate) mod prices;
pub(crate) mod questions;
pub(crate) mod ready;
mod ready_coming;
mod ready_days;
pub(crate) mod received;
pub(crate) mod rings;
pub(crate) mod rules_said;
pub(crate) mod shortages;
pub(crate) mod stages;
pub(crate) mod stakes;
pub(crate) mod stakes_asked;
pub(crate) mod state;
pub(crate) mod story;
pub(crate) mod tailgate;
pub(crate) mod tailgate_choice;
pub(crate) mod tailgate_words;
pub(crate) mod tell;
pub(crate) mod tools;
pub(crate) mod trust;
pub(crate) mod unloading;
pub(crate) mod ways;
pub(crate) mod weighed;

use axum::http::StatusCode;

use crate::reply::Failure;

pub(crate) async fn no_such_page() -> Failure {
    Failure::new(StatusCode::NOT_FOUND, "There is no such page.")
}
