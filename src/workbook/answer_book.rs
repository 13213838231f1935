//! answer_book
