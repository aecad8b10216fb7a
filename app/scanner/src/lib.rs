//! Reads a pen tag from a camera frame, in the browser.
