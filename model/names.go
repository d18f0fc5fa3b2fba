package model

import "strings"

// Ids of the library that the program itself speaks of: rules that hang on one of them, and what it
// puts before or behind a session.
const (
	AsFound    = "as-found"
	CloseOut   = "close-out"
	SwitchOff  = "switch-off"
	SwitchOn   = "switch-on"
	PlugIn     = "plug-in"
	Unplug     = "unplug"
	CoolOff    = "cool-off"
	FilterSwap = "filter-swap"
	PlateWash  = "plate-wash"
)

// Flags of the ledger, and the items in a machine, that rules hang on.
const (
	FlagStrand = "strand"     // filament that was parted is left in the toolhead
	FlagOil    = "oil"        // oil is wet
	FlagLost   = "lost-piece" // a piece was not found; its value lists them
	ItemBlocks = "blocks"     // blocks the bed or gantry rests on
	// what holds its axes in transit: it stays in a machine that is put away, and keeps power off it
	ItemLocks = "transport locks"
)

// SessionWords are what a line said in a session begins with where it is a word of command: no
// answer of a file may.
var SessionWords = []string{"pause", "back", "skip", "leave", "cut", "fault", "note", "plan", "set"}

// Beginnings of what a machine's settings keep beside the answers that it gave: that a question was
// put and not answered, and what was counted the last time.
const (
	UnknownPrefix = "unknown:"
	CountedPrefix = "counted:"
)

// Aside tells what a machine's settings keep beside its answers.
func Aside(setting string) bool {
	return strings.HasPrefix(setting, UnknownPrefix) || strings.HasPrefix(setting, CountedPrefix)
}

// PlugTag is the setting that holds the id on the tag of a machine's plug.
const PlugTag = "plug-tag"

// StepTags is the step of AsFound that compares a machine with its record.
const StepTags = "tags"

// Rungs of the ladder that rules hang on.
const (
	RungStoneCold Rung = "stone-cold"
	RungDust      Rung = "dust"
	RungAiring    Rung = "airing"
	RungOil       Rung = "oil"
	RungProof     Rung = "proof"
	RungPaper     Rung = "paper"
)

// Answers of a session that are known by more than their text; the others pass as they are.
const (
	KnownSupplies = "supplies"
	KnownBlocks   = "blocks"
	KnownWhole    = "whole"
	KnownBlowWith = "blow-with"
	KnownNoPrint  = "no-print"
)

// When a [[later]] is asked for: once power is back and the machine whole, or on the next day.
const (
	LaterProof   = "proof"
	LaterNextDay = "next day"
)
