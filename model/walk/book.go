package walk

import (
	"maps"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// book is the ledger under way: what is out of the machine, in it, or loose, by the steps that
// moved it, and the pieces that are missing or left over.
type book struct {
	// key/step -> ledger item -> change; items of Inside carry insidePrefix
	moves   map[string]map[string]int
	flags   map[string]string // belts loosened, oil wet, a lost piece …
	perhaps map[string]span   // ledger items a page broken off may have moved
	stands  bool              // on blocks that were said to stand and not counted yet
	toCount []string          // ledger items and flags to agree after an interruption
	missing []missing         // what was counted as lost and is looked for
	lost    []string          // pieces that are looked for
	// key/step -> what a telling said is missing there, until it says how that row came out
	untilTold map[string]string
}

func (bk *book) bring(b *Block, m map[string]int, item string, n int) {
	if b.Kind == model.BlockSetUp {
		bk.setCount(item, n)
		return
	}
	m[item] += n
}

// undo takes back at most what the book holds.
func (bk *book) undo(b *Block, key string, m map[string]int, item string, n int) {
	have := bk.total(item) - bk.moves[key][item] + m[item]
	n = max(0, min(n, have))
	if b.Kind == model.BlockSetUp {
		bk.setCount(item, have-n)
		return
	}
	m[item] -= n
}

// total is how many of an item the book holds.
func (bk *book) total(item string) int {
	sum := 0
	for _, m := range bk.moves {
		sum += m[item]
	}
	return sum
}

// setCount makes the ledger hold n of an item. Where that is not what its steps add up to, the
// steps no longer count: what they did was undone or done again outside the book.
func (bk *book) setCount(item string, n int) {
	delete(bk.moves[said], item)
	if bk.total(item) == n {
		return
	}
	for _, m := range bk.moves {
		delete(m, item)
	}
	if bk.moves["counted"] == nil {
		bk.moves["counted"] = map[string]int{}
	}
	bk.moves["counted"][item] = n
}

// lose books a piece as missing, beside those that are missing already. What is booked twice is two
// pieces.
func (bk *book) lose(what string) {
	name, inside := strings.CutPrefix(what, insidePrefix)
	if !inside || name == "" {
		name = what
	}
	bk.lost = append(slices.Clone(bk.lost), name)
	bk.setLost(append(bk.pieces(), name))
}

// loseCounted books what a count found missing of an item.
func (bk *book) loseCounted(item string, n int) {
	bk.lose(item)
	bk.missing = append(slices.Clone(bk.missing), missing{item: item, n: n})
}

func (bk *book) pieces() []string { return bk.Ledger().LostPieces() }

func (bk *book) setLost(pieces []string) {
	bk.flags[lostPiece] = model.JoinLost(pieces)
	if len(pieces) == 0 {
		delete(bk.flags, lostPiece)
	}
}

// foldFound takes a missing piece as found: it is in the hand, so what was out is still out. Found
// without a name, as once, is the first.
func (bk *book) foldFound(x *model.Walked) {
	all := bk.pieces()
	piece := pieceOf(x.Item, all)
	for i, m := range bk.missing {
		name, inside := strings.CutPrefix(m.item, insidePrefix)
		if !inside {
			name = m.item
		}
		if name != piece {
			continue
		}
		if !inside {
			bk.setCount(m.item, bk.total(m.item)+m.n)
		}
		bk.missing = slices.Delete(slices.Clone(bk.missing), i, i+1)
		break
	}
	bk.lost = without(bk.lost, piece)
	bk.setLost(without(all, piece))
	bk.toCount = without(bk.toCount, x.Item)
}

// settleMoves drops what steps [from, to) of a block took out and put back again: it is where it
// was.
func (bk *book) settleMoves(b *Block, from, to int) {
	sum := map[string]int{}
	for i := from; i < to; i++ {
		for item, n := range bk.moves[stepKey(b.key, b.Proc.Steps[i].Name)] {
			sum[item] += n
		}
	}
	for i := from; i < to; i++ {
		m := bk.moves[stepKey(b.key, b.Proc.Steps[i].Name)]
		for item := range m {
			if sum[item] == 0 {
				delete(m, item)
			}
		}
	}
}

// Ledger is what has been brought about and must be undone.
func (bk *book) Ledger() model.Ledger {
	sum := map[string]int{}
	for _, m := range bk.moves {
		for k, n := range m {
			sum[k] += n
		}
	}
	l := model.Ledger{}
	for k, n := range sum {
		if n == 0 {
			continue
		}
		if rest, ok := strings.CutPrefix(k, insidePrefix); ok {
			if l.Inside == nil {
				l.Inside = map[string]int{}
			}
			l.Inside[rest] = n
			continue
		}
		if l.Out == nil {
			l.Out = map[string]int{}
		}
		l.Out[k] = n
	}
	if len(bk.flags) > 0 {
		l.Flags = maps.Clone(bk.flags)
	}
	return l
}
