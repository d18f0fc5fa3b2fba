// Package job reads a print file and says what the print will cost the machine: filament changes,
// filament by tool, travel by axis, retractions, temperatures and time.
//
// Scan reads plain G-code, gzip, and zip containers with one or more .gcode members from an
// io.ReaderAt; ScanStream reads the first two from an io.Reader. ToolChanges answers the one
// question how often the tool changes, faster than the lines of the file can be counted.
//
// The language is RS274/NGC (Kramer, Proctor, Messina, "The NIST RS274NGC Interpreter, Version 3",
// NISTIR 6556, 2000) where it rules: case, spaces, comments in parentheses, line numbers, block
// delete, modal motion, arcs by I J K and by R, G17 to G19, G20, G21, G90, G91, G92. On top of it
// stands the open dialect of filament printers: comments after a semicolon, checksums *nn, M82 and
// M83, T for the tool, M600 for a change by hand, temperatures, waits and limits. Where the two
// differ the dialect rules, since its files are what is printed: G4 P is milliseconds, E is a word
// and not an exponent, words of a command in M are its own. Comments are never read. What is not
// known is counted under its name and never guessed.
//
// A file is cut into blocks. Up to two workers turn blocks into records side by side; the records
// are then carried out strictly in the order of the file, one block at a time, so the sums do not
// depend on the number of workers. Lengths are whole nanometres and add up exactly. Memory is
// bounded, whatever the size of the file and whatever is in it.
//
// The package is pure: bytes come from a reader, values go out.
package job
