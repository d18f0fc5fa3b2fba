// Package job reads a print file and says what the print will cost the machine: filament changes,
// filament by tool, travel by axis, retractions, temperatures and time.
//
// Scan reads plain G-code, gzip, and zip containers with one or more .gcode members from an
// io.ReaderAt; ScanStream reads the first two from an io.Reader. ToolChanges answers the one
// question how often the filament changes, in about the time the lines of the file can be counted.
// Binary print files, blocks of packed text, are named as such and not read: there was no pair of
// one and its text to hold a reader of them to, and whoever writes one can write the text.
//
// The language is RS274/NGC (Kramer, Proctor, Messina, "The NIST RS274NGC Interpreter, Version 3",
// NISTIR 6556, 2000) where it rules: case, spaces, comments in parentheses, line numbers, block
// delete, modal motion, arcs by I J K and by R, G17 to G19, G20, G21, G90, G91, G92. On top of it
// stands the open dialect of filament printers: comments after a semicolon, checksums *nn, M82 and
// M83, T for the tool, M600 for a change by hand, temperatures, waits and limits. Where the two
// differ the dialect rules, since its files are what is printed: G4 P is milliseconds, E is a word
// and not an exponent, words of a command in M are its own. Comments are never read. What is not
// known is counted under its name and never guessed. A line that cannot be carried out is passed
// over, as a printer passes it over: such lines are counted, the first three are named, and
// Options.Strict has the reading end there. An arc that misses its end is drawn all the same, by
// the mean of its radii.
//
// A file is cut into blocks. Up to two workers turn blocks into records side by side; the records
// are then carried out strictly in the order of the file, one block at a time, so the sums do not
// depend on the number of workers. Lengths are whole nanometres and add up exactly. Memory is
// bounded, whatever the size of the file and whatever is in it.
//
// The package is pure: bytes come from a reader, values go out.
//
// # How it is fast
//
// model/job cuts a file into blocks of 256 KiB. Up to two workers turn blocks into records side by
// side; the records are carried out strictly in the file's order, so no sum depends on the number
// of workers. Lengths are whole nanometres. Print files write lines of few forms: where the digits
// stand and what stands between them. A form met before is known by a key of 64 bits, one for each
// byte of the line, and such a line is read without a decision, its four numbers at once (form.go;
// form_amd64.s with AVX2, other processors do without forms). A line of movement whose form is not
// known is read in one pass (lexer.move); anything else goes the long way (lexer.line). Without
// time, a worker also adds up level moves between other commands (stretch), taking for granted the
// modes and the place it believes in; the ordered stage checks that before it joins the sums, and
// has the lines carried out one by one where it was not so. FuzzScan, TestStretches and TestForms
// hold all of these, every block size, with time and without, to the same report and fault;
// TestFormByByte changes each byte of a line to every other. The rapid tests hold it to a second
// reader that shares no code with it (text, regular expressions, fractions). Where NISTIR 6556 and
// the printers' dialect differ the dialect rules; see the package comment.
//
// # What it counts
//
//   - A first T loads and is part of the start, unless plastic was laid before it: that was tool
//     0, and it is a change. T numbers beyond the tools (64 unless the profile says otherwise) are
//     service calls. M135 T, M108 T and M1020 S choose as T does. M6 T chooses where nothing else
//     does; elsewhere it waits until the tool is hot (six).
//   - Layers are the heights at which plastic is laid by level movement, by object, and the turns of
//     a spiral that rises without a stop. A purge line at a height of its own is none (stack). G92 Z
//     in the middle of a print moves no height.
//   - The time is that of the moves, by the limits of the file, else of the machine (ProfileOf),
//     else of DefaultProfile (from memory). M204 above what the axes take raises that for X and Y,
//     unless M201 or the machine has said it. What the start with its heating and a filament change
//     take is what the machine's settings say, or what was learned of prints whose time was told
//     (Timing); where neither is known it is said to come on top.
//   - M200 makes volumes of lengths: they are turned back with the file's own diameter.
//   - What cannot be right is said (Doubts): filament on letters that are not read, lines of a width
//     that only other filament makes, a nozzle still hot at the end.
//   - Between two marks (Report.Marks, at most 1,024) a layer and hour are the next mark's:
//     "about".
//   - Styrenic and abrasive shares are those of procedures/materials.toml; densities are in
//     model/job/material.go (from memory). Where a tool's material is not said, verdicts that need
//     it are unknown.
//   - Bounds: a line of 1 MiB, 200,000 heights, 64 names of what is not known, 100 members of a
//     container, 200 times its size unpacked. A container with a name that leads out of it is
//     refused whole.
package job
