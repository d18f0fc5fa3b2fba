// Package walk is one care session at one machine: which step stands before the person, what it
// demands, what an answer does to the machine's believed state and to the ledger, and what follows.
//
// A Walk is a fold over the session's entries; it holds no clock and does no I/O. Answer judges
// what a person says and gives the facts to write; only when they are written does Apply move the
// walk on, so nothing is ever shown as done before it is in the journal.
//
// # What it holds to
//
//   - A procedure joined by an add miss joins at the next boundary at which care has nothing out:
//     what set-up actions have out (cover, glass, tubes) the planner sees as state and closes
//     again. Waiting for an empty ledger would close the machine first and open it anew.
//   - A number out of range whose miss leads elsewhere (stop, part, due …) is refused the first
//     time and taken when the same answer is given again: a slip of a finger must not park a job.
//     A choice is deliberate and taken at once.
//   - A step that drives heat makes the machine hot when it is answered, missed, skipped or left,
//     and going back does not cool it. In care it is cold again as read, else by a set-up action
//     alone (model/walk/heat.go).
//   - Owed proofs stand in two blocks behind the last switching on: cold ones, then those that
//     heat, behind the holds of the set-up action heat and before any other proof, because nothing
//     should heat or travel far before what was opened is seen to work. What is watched while it
//     warms comes before the print temperature is asked for.
//   - The proof of a parted sensor asks for heat, so it waits until a gantry was lifted off its
//     blocks (gantry-free comes first), and the machine counts as hot after it. Sessions begun
//     before it was a file keep its steps at switching on.
//   - Every heater's target is read as zero before ready (heat-off), behind the last block where a
//     session heated and has no paper; without power it is not asked. Its number is the setting
//     heaters.
//   - The machine's heat is the warmest of the places read since it last grew hot; which quantity
//     is a reading of which place says one list (model/temperature.go).
//   - State is asked when a session begins, not only when it resumes, wherever its plan opens or
//     powers the machine. cold is never a word: the warmest reading is typed.
//   - Waits may count from a named clock (cooling, airing, unplugged) instead of from now, so that
//     other work fills them. The airing clock starts anew where door or top was said to be closed.
//   - An interrupted stretch under an owned exception begins again from its first step.
//   - Power said to be on over anything out, in or loose, or over vapour, is an emergency wherever
//     it comes out (plan.Standing.Emergency, walk/emergency.go): only cut-power or cut-vapour
//     follows, then reading cold and the plug, before anything is put back, looked for or moved.
//     Loose leads to the plug with the power off too. An owned exception keeps just what it names,
//     while its block is under way.
//   - What care has out (screws, belts, a plug) is asked back before a set-up action closes over
//     it, after a stop too. What it cannot bring back leaves the session to be given up; tag and
//     ledger stay.
//   - Where a procedure that opens the machine joins a session that was not to open it, the state
//     is asked then, and the bookends join.
//   - A number asked once of a machine (equal = { setting = … }) can be put right at a count that
//     wants it: the fact corrected holds for the rest of the session, a machine fact beside it for
//     good.
//   - A step that starts a clock cannot be skipped; where a procedure is left out with vapour in
//     the air, the airing counts from then.
//   - A swap or care logged elsewhere since the session began is said at the first step it
//     concerns; the person leaves the procedure out, does it again, or has the rest planned again
//     without it (plan).
//   - A set-up action broken off begins again at its first step: that the plug was out says
//     nothing after a break. Its counts are of all there is, so doing it again counts nothing
//     twice.
//   - What is said to be off or open at the start counts as out (cover, top, a changer on its
//     lid); what only the person can know (screws, tubes) is counted freely when it goes back. A
//     bed or gantry may be said to stand on blocks: they are booked and counted then; low by
//     itself books none.
//   - Vapour clears with door and top open: where the top was said to be on, it comes off first,
//     or is asked for at the wait.
//   - back goes over a wait to the last answer, and never over a stop: a stop is cleared by name.
//     After a stop power, heat and bed are asked anew, and on is no answer, in the session that
//     closes it either.
//   - A miss that goes on with the session puts nothing back, clears no flag and sets no state,
//     unless it is the choice of an option whose file says so. A state, and a step under an
//     exception, is never passed as found.
//   - How the old part was is asked when its procedure is through, and swap, care and stock are
//     one action. A renewal begun and not finished is a finding. A proof skipped stays owed; one
//     seen to fail is not paid.
//   - A piece not found stays in the ledger of a machine closed without power, until it is found.
//   - A tag that says what a machine lacks goes only where the person names it ready at the end.
//   - A session begun by an older program goes on by the gates it was begun with. Only what nothing
//     else leads out of is taken from the library: cutting power, and lifting a gantry off its
//     blocks. The step of heating that asks for a temperature heats, also where its text does not
//     say that it drives. An operator's own file may ask a setting of the library in other words,
//     not with other answers.
//
// # Pages, pace, and what is known
//
// A step's rank (model/rank.go) comes from what it does: hold, marked row, row. A page
// (walk/page.go) is the run of rows of one block up to its next hold, as the ordinary answers lay
// them; another answer lays the rows below anew and passes none. The page is on record from when it
// comes up (page, with its rows): broken off, each row was perhaps done, so what it takes out is
// asked back, as many as its rows can have moved (walk/perhaps.go), and its flags count as set.
// Each row is an entry of its own, marked how it was passed (alone, line, page, known, paper); rows
// passed by one enter are one action, so one back takes them. A page of more than five cautions is
// cut.
//
// Pace (walk/pace.go): a block goes by pages where this operator walked the same text with the same
// rows twice in steps, ever, and once within 180 days; under an owned exception three times,
// whatever is set. Kept by a session's end (Closed.Practice), per machine, added up over the bench.
// oilcan walk goes in steps unless --pace says otherwise; piped answers are not held to the reading
// time.
//
// What an answer made known (walk/known.go, known = "…" in the files) passes later steps by itself:
// as an entry that says what it rests on. One table says which event makes what unknown again; a
// break, a stop, another operator and an entry from elsewhere make all of it unknown but what was
// laid out. Only steps that stand alone, or a row with its own key, make known what guards a
// person; only a reading of the hot end makes known that it is cold. What is still
// inside is asked once, just before it closes, where nothing moves, heats or gets power until then.
// An invariant of the fuzz looks back from each such pass to the answer it rests on. set N still
// works at a closing count that wants a number on record: without it a wrong record would have no
// way out.
//
// Every session that opens or powers a machine begins with begin and lay-out (walk/begin.go),
// set-up actions without a change: what speaks against power passes as-found and heating; the list
// is of all blocks behind it, and passes their stock steps, not those of what joins later. What is
// missing (walk/lack.go) names what cannot be done without it by planning each procedure alone;
// left out it is a finding, and the rest is planned again. With something out or over blocks both
// stand behind the plug, or the freeing.
//
// While a wait runs (walk/meanwhile.go) steps of later blocks that name it may be done: entries
// early, folded by their own block and step. Only looks that change nothing (Step.Untouching),
// behind no open hold; vapour forbids what only cooling allows, heat or power what only airing
// allows, an attended wait all. A miss that parks leaves the block out before it was begun. The
// fuzz holds it to its own account.
//
// # Told from paper
//
// Work done by a printed sheet is told afterwards (Begun.Told, walk/told.go): the care of the
// session in its order, a page a procedure with all its rows, holds among them, by their numbers on
// the sheet. Rows are entries marked paper, of the time the work was done. What is believed of
// them, and what not:
//
//   - A tick tells what was done: care counts, gauges start again, supplies are used, and the book
//     of what is out, in and loose goes by the counts. What was read, counted, chosen without an
//     ordinary answer or decided has to be told, and so has whatever a proof shows.
//   - No row told passes a later step by what it made known, and none makes a pace.
//   - Of power, heat, filament and what is open or closed nothing is believed, and set-up actions
//     are not told at all: where the session needs anything of the machine, all of it is asked as
//     of now, and what the book has out is counted, before a plan is laid and before ready.
//   - Vapour and an unproved sensor are set by a tick, and cleared by none. For how long it was
//     aired is asked in minutes; a sensor is proved under the eyes of who is there now.
//   - Checks owed under power stay owed after work on paper, and are walked; so are the targets
//     read as zero, what was left inside, and ready.
//   - A stop that is told stops the machine now. A number out of range cannot be read again or
//     gone back for: it is told as it came out at last, or its row as not done, and the care is
//     done in part.
//
// Broken off, the telling goes on at its row; nothing is asked of the machine before all is told.
//
// How the machine stands is asked on one screen (ui/screen/walk/walk_state.go); what the last
// session left is a guess there, power, heat and the bed have none. Power said on over something
// out is written at once, before the other rows.
package walk
