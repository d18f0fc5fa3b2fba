package walk

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
)

const (
	lostPiece = model.FlagLost
	// lostFlag is the ledger's item of the first piece that is missing; those behind it carry their
	// name.
	lostFlag = "flag:" + lostPiece
)

// missing is what was counted as lost and is looked for.
type missing struct {
	item string // of the ledger
	n    int    // how many of it
}

// pieceOf is the piece an item of the ledger, or of a fact, names.
func pieceOf(item string, all []string) string {
	if name, ok := strings.CutPrefix(item, lostFlag+":"); ok {
		item = name
	}
	if len(all) == 0 || slices.Contains(all, item) {
		return item
	}
	return all[0]
}

// without is a list with the first of its entries that is s taken out.
func without(list []string, s string) []string {
	if i := slices.Index(list, s); i >= 0 {
		return slices.Delete(slices.Clone(list), i, i+1)
	}
	return list
}

// lostItems are the ledger's items by which each piece is asked for.
func lostItems(pieces []string) []string {
	var out []string
	for i, p := range pieces {
		if i == 0 {
			out = append(out, lostFlag)
			continue
		}
		out = append(out, lostFlag+":"+p)
	}
	return out
}

// isLost tells whether an item of the ledger is a piece that is missing.
func isLost(item string) bool { return item == lostFlag || strings.HasPrefix(item, lostFlag+":") }

// lostSays says in a sentence, without its end, that a piece is missing.
func lostSays(piece string) string {
	if strings.HasSuffix(piece, ".") {
		return strings.TrimSuffix(piece, ".")
	}
	return "Missing, and to be found before power returns: " + piece
}

// findPrompt asks for the first piece that is looked for; how many more there are is said with it.
func (bk *book) findPrompt() Prompt {
	p := Prompt{Kind: AskFind, Item: bk.lost[0], Options: []string{"found", "not found"},
		Question: lostSays(bk.lost[0]) + ". Found?"}
	if what, over := strings.CutPrefix(bk.lost[0], model.LeftOver); over {
		p.Options = []string{"in place", "place not known"}
		p.Question = strings.TrimSuffix(what, ".") + ". Is it in its place?"
	}
	if n := len(bk.lost) - 1; n > 0 {
		p.Question = fmt.Sprintf("%s (%d more after it.)", p.Question, n)
	}
	return p
}

// stillLost asks whether a piece is still missing, where nobody has to look for it now.
func stillLost(p Prompt, all []string) Prompt {
	piece := pieceOf(p.Item, all)
	p.Question, p.Options = lostSays(piece)+". Looked for, or found?", []string{"ok", "found"}
	if what, over := strings.CutPrefix(piece, model.LeftOver); over {
		p.Question, p.Options = strings.TrimSuffix(what, ".")+
			". Still over, or in place?", []string{"ok", "in place"}
	}
	return p
}

func (at *progress) judgeFind(p Prompt, text string) Reply {
	what, over := strings.CutPrefix(p.Item, model.LeftOver)
	switch strings.ToLower(text) {
	case "ok", p.Options[0]:
		return Reply{Facts: []model.Fact{at.walked(model.Walked{What: Found, Item: p.Item})}}
	case "fail", "no", p.Options[1]:
		if over {
			return at.stopFacts("A piece was left over, and nobody knows its place. No power until that is found.", text)
		}
		return at.stopFacts("A piece is missing inside ("+model.LostName(what)+
			"): no power until it is found.", text)
	}
	if over {
		return refuse("Answer in place once it is where it belongs, or place not known: then the machine is closed without power.")
	}
	return refuse("Answer found once it is in your hand, or not found: then the machine is closed without power.")
}
