//! Sheets and mark schemes on paper, typeset with typst.
