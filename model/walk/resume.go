package walk

import (
	"slices"
	"strings"

	"bench/oilcan/model"
)

// foldResumed makes the first eight variables unknown and lists what must be agreed anew.
func (w *Walk) foldResumed() {
	w.paused = false
	w.toAsk, w.toCount = nil, nil
	fs := w.Features()
	for _, v := range model.Variables {
		if v.Latched() {
			continue
		}
		delete(w.Believed, v)
		delete(w.Seen, v)
		if v.Exists(fs) {
			w.toAsk = append(w.toAsk, v)
		}
	}
	l := w.Ledger()
	w.toCount = append(w.toCount, sortedKeys(l.Out)...)
	for _, k := range sortedKeys(l.Inside) {
		w.toCount = append(w.toCount, insidePrefix+k)
	}
	for _, k := range sortedKeys(l.Flags) {
		w.toCount = append(w.toCount, "flag:"+k)
	}
	w.restartOwned()
	w.needs = true
}

// restartOwned begins a stretch under an owned exception again from its first step: power and heat
// inside it are not what they were.
func (w *Walk) restartOwned() {
	for _, b := range w.Blocks {
		if b.Status != Ahead || b.Kind != "care" || len(b.Proc.Owns) == 0 {
			continue
		}
		first := slices.IndexFunc(b.Proc.Steps, func(s model.Step) bool { return s.Own })
		at := w.nextStep(b, 0)
		if first < 0 || at <= first || at >= len(b.Proc.Steps) {
			continue
		}
		if s := b.Proc.Steps[at]; s.Own || s.Gate == model.State {
			w.unpass(b, first, at)
		}
	}
}

// unpass takes steps [from, to) of a block as not passed; what they put back counts as out again.
func (w *Walk) unpass(b *Block, from, to int) {
	for i := from; i < to && i < len(b.Proc.Steps); i++ {
		k := stepKey(b.key, b.Proc.Steps[i].Name)
		delete(w.passed, k)
		delete(w.skips, k)
		for item, n := range w.moves[k] {
			if n < 0 {
				delete(w.moves[k], item)
			}
		}
	}
}

func (w *Walk) foldSaid(e model.Entry, x *model.Walked) {
	if x.Variable == "" {
		return
	}
	w.Believed[x.Variable] = x.Answer
	w.Seen[x.Variable] = Seen{At: e.At, Note: readNote(x)}
	w.toAsk = slices.DeleteFunc(slices.Clone(w.toAsk), func(v model.Variable) bool { return v == x.Variable })
	shut := (x.Variable == model.Door && x.Answer == "closed") || (x.Variable == model.Top && x.Answer == "on")
	if shut && w.Believed[model.Vapour] == "drying" {
		delete(w.Clocks, "airing") // it stood still behind a closed panel; it starts anew when both are open
	}
}

func readNote(x *model.Walked) string {
	if x.Number == nil {
		return ""
	}
	return Number(*x.Number) + " " + x.Unit
}

func (w *Walk) foldCounted(x *model.Walked) {
	w.toCount = slices.DeleteFunc(slices.Clone(w.toCount), func(s string) bool { return s == x.Item })
	if flag, ok := cutPrefix(x.Item, "flag:"); ok {
		if x.Answer == "clear" {
			w.setFlag(flag, "")
		}
		return
	}
	if x.Number == nil {
		return
	}
	w.setCount(x.Item, int(*x.Number))
	if x.Answer == "lost" {
		w.lose(x.Item)
	}
}

// setCount makes the ledger hold n of an item. Where that is not what its steps add up to, the steps no
// longer count: what they did was undone or done again outside the book.
func (w *Walk) setCount(item string, n int) {
	sum := 0
	for _, m := range w.moves {
		sum += m[item]
	}
	if sum == n {
		return
	}
	for _, m := range w.moves {
		delete(m, item)
	}
	if w.moves["counted"] == nil {
		w.moves["counted"] = map[string]int{}
	}
	w.moves["counted"][item] = n
}

func (w *Walk) lose(what string) {
	name, _ := cutPrefix(what, insidePrefix)
	if name == "" {
		name = what
	}
	w.lost = strings.TrimPrefix(name, insidePrefix)
	w.flags["lost-piece"] = w.lost
}
