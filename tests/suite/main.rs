//! The project from outside, linked once.

mod answers;
mod banks;
mod by_hand;
mod command_line;
mod decisions;
mod diagnosis;
mod drawing;
mod explanations;
#[path = "../fuzz/bodies.rs"]
mod fuzz_bodies;
mod fuzz_seeds;
mod golden;
mod homeworks;
mod house_rules;
mod late_work;
mod libreoffice;
mod like_explanations;
mod linear;
mod lives;
mod main_job;
mod marked_homework;
mod marking;
mod misconception_rows;
mod misconceptions;
mod nation;
mod overview;
mod person;
mod policies;
mod program;
mod published;
mod question_banks;
mod review;
mod samples;
mod second_look;
#[path = "../simulation/mod.rs"]
mod simulation;
mod solve;
mod spreadsheet_changes;
mod statistics;
mod wrong_solvers;
