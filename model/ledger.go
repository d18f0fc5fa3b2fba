package model

import (
	"maps"
	"slices"
	"strings"
)

// Ledger is what care has brought about and must be undone.
type Ledger struct {
	// taken out of the machine: screws, cover, glass
	Out    map[string]int `json:"out,omitempty"`
	Inside map[string]int `json:"inside,omitempty"` // put into it: paper, blocks, tools
	// belts loosened, oil wet, sensor parted, strand left, lost piece
	Flags map[string]string `json:"flags,omitempty"`
}

// LostPieces are the pieces that are missing or left over, as they came; the book has them a line
// each.
func (l Ledger) LostPieces() []string {
	if s := l.Flags[FlagLost]; s != "" {
		return strings.Split(s, lostBreak)
	}
	return nil
}

// FlagName calls a flag of the ledger as a person reads it: the flag "strand" is filament that was
// left in the head.
func FlagName(flag string) string {
	if flag == FlagStrand {
		return "filament in the head"
	}
	return strings.ReplaceAll(flag, "-", " ")
}

// FlagText is a flag with its value: "belts loosened", "filament left in the head".
func (l Ledger) FlagText(flag string) string {
	if flag == FlagStrand {
		return "filament " + l.Flags[flag] + " in the head"
	}
	return FlagName(flag) + " " + l.Flags[flag]
}

// LostName is a piece in a line: its name as it was counted, or what a file says of it, up to the
// colon.
func LostName(piece string) string {
	if !strings.HasSuffix(piece, ".") {
		return piece
	}
	name, _, _ := strings.Cut(strings.TrimSuffix(piece, "."), ": ")
	return strings.ToLower(name[:1]) + name[1:]
}

// JoinLost is a list of pieces as the flag "lost-piece" holds it, "" for none.
func JoinLost(pieces []string) string { return strings.Join(pieces, lostBreak) }

// OnlyLeftOver tells whether no piece is missing, and one at least is over.
func (l Ledger) OnlyLeftOver() bool {
	all := l.LostPieces()
	return len(all) > 0 && !slices.ContainsFunc(all, func(p string) bool {
		return !strings.HasPrefix(p, LeftOver)
	})
}

// LeftOver begins a piece that is over: it is in the hand, and its place is not known.
const LeftOver = "left over: "

const lostBreak = "\n"

// Empty tells whether nothing has to be undone.
func (l Ledger) Empty() bool {
	for _, n := range l.Out {
		if n != 0 {
			return false
		}
	}
	for _, n := range l.Inside {
		if n != 0 {
			return false
		}
	}
	return len(l.Flags) == 0
}

// WithoutStub is the ledger without a stub of filament in the toolhead: it is no part of the
// machine, and waits for heat.
func (l Ledger) WithoutStub() Ledger {
	l.Flags = maps.Clone(l.Flags)
	delete(l.Flags, FlagStrand)
	return l
}

// tidy leaves out empty maps, which do not survive being written down.
func (l Ledger) tidy() Ledger {
	if len(l.Out) == 0 {
		l.Out = nil
	}
	if len(l.Inside) == 0 {
		l.Inside = nil
	}
	if len(l.Flags) == 0 {
		l.Flags = nil
	}
	return l
}
