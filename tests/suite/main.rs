//! The project from outside, linked once.

mod answers;
mod at_once;
mod banks;
mod browser;
mod by_hand;
mod cards;
#[path = "../benches/class.rs"]
mod class;
mod command_line;
mod decisions;
mod diagnosis;
mod drawing;
mod drawing_laws;
mod drawings;
mod equal_answers;
mod explanations;
mod faults;
mod feedback;
mod forget;
mod full_and_forbidden;
#[path = "../fuzz/bodies.rs"]
mod fuzz_bodies;
#[path = "../fuzz/files.rs"]
mod fuzz_files;
mod fuzz_seeds;
mod golden;
mod homeworks;
mod hostile;
mod house_rules;
mod injection;
mod kept_until;
mod late_work;
mod libreoffice;
mod like_explanations;
mod linear;
mod lives;
mod main_job;
mod marked_homework;
mod marking;
mod marking_laws;
mod markup;
mod misconception_rows;
mod misconceptions;
mod nation;
mod next_homework;
mod overview;
mod person;
mod policies;
mod printing;
mod privacy;
mod program;
mod published;
mod question_banks;
mod records;
mod report;
mod report_screen;
mod review;
mod rows_to_check;
mod samples;
mod screen;
mod screen_motion;
mod second_look;
#[path = "../simulation/mod.rs"]
mod simulation;
mod solve;
mod spreadsheet_changes;
mod statistics;
#[path = "../fuzz/target.rs"]
mod target;
mod warehouse;
mod wrong_solvers;
