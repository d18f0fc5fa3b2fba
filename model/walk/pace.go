package walk

import (
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// The paces of a session: step by step, page by page, or as the hand is practised.
const (
	Steps = "steps"
	Pages = "pages"
	ByUse = "auto"
)

// Paces lists them.
var Paces = []string{ByUse, Steps, Pages}

// When work goes page by page by itself: walked twice in steps, ever, and at all within half a
// year; under an owned exception three times, whatever is set (common practice: a hand out of use
// for half a year reads again).
const (
	practisedSteps = 2
	practisedOwned = 3
	practisedFor   = 180 * 24 * time.Hour
)

// inPages tells whether the current block goes page by page.
func (at *progress) inPages(c Context) bool {
	b := at.Block()
	if b == nil || at.telling || !paged(b.Proc) {
		return false
	}
	p := c.Practice.Shown[at.shownKey(b)]
	if len(b.Proc.Owns) > 0 && p.Steps < practisedOwned {
		return false
	}
	switch c.Pace {
	case Steps, "":
		return false
	case Pages:
		return true
	}
	return p.Steps >= practisedSteps && c.Now.Sub(p.Last) <= practisedFor
}

// InPages tells whether the current block goes page by page, and CanPages whether it could.
func (at *progress) InPages(c Context) bool { return at.inPages(c) }

// CanPages tells whether the pace of the current block can be changed to pages.
func (at *progress) CanPages(c Context) bool {
	c.Pace = Pages
	return at.inPages(c)
}

// paged tells whether a text is written for pages: each of its steps has its row.
func paged(p *model.Procedure) bool {
	return len(p.Steps) > 0 && !slices.ContainsFunc(p.Steps, func(s model.Step) bool {
		return s.Line == ""
	})
}

// shownKey names what is shown of a block, as the answers so far and the ordinary ones lay it: its
// text and the names of its rows. What an earlier answer may pass, and waits, count for nothing.
func (at *progress) shownKey(b *Block) string { return at.keyUpTo(b, len(b.Proc.Steps)) }

// keyUpTo is shownKey as it was before the n-th step was answered.
func (at *progress) keyUpTo(b *Block, n int) string {
	said := map[string]string{}
	h := sha256.New()
	h.Write([]byte(b.hash))
	for i := range b.Proc.Steps {
		s := &b.Proc.Steps[i]
		if s.Gate == model.Wait || s.Only.Step != "" &&
			!slices.Contains(s.Only.Is, said[s.Only.Step]) {
			continue
		}
		if s.Known == "" {
			h.Write([]byte("\n" + s.Name + "\t" + s.Line))
		}
		k := stepKey(b.key, s.Name)
		if a, ok := at.answers[k]; ok && at.passed[k] && i < n {
			said[s.Name] = a.Text
		} else if _, answer := at.ordinary(Context{}, b, s, said); answer != "" {
			said[s.Name] = answer
		}
	}
	return hex.EncodeToString(h.Sum(nil))[:firstLen]
}

// shownKeys are all keys a block had while it was walked: one more for each answer that laid other
// rows.
func (at *progress) shownKeys(b *Block) []string {
	var out []string
	for n := 0; n <= len(b.Proc.Steps); n++ {
		if k := at.keyUpTo(b, n); !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// practised is what is kept of the blocks walked here, and of the cautions that stood in full.
func (w *Walk) practised() []model.Practised {
	var out []model.Practised
	for _, b := range w.Blocks {
		by, one := w.walkedBy(b)
		if !one || b.Status != Done && b.Status != Part || !paged(b.Proc) {
			continue
		}
		if w.toldOf(b) {
			continue // nobody was seen to walk it
		}
		pages := slices.ContainsFunc(b.Proc.Steps, func(s model.Step) bool {
			k := stepKey(b.key, s.Name)
			return w.skips[k] != "" || w.how[k].how == model.AsPage || w.how[k].how == model.AsLine
		})
		for _, k := range w.shownKeys(b) {
			out = append(out, model.Practised{By: by, Shown: k, Pages: pages})
		}
	}
	if len(w.whole) > 0 {
		out = append(out, model.Practised{By: w.LastBy, Whole: slices.Sorted(maps.Keys(w.whole))})
	}
	return out
}

// walkedBy is the one operator who passed all rows of a block.
func (at *progress) walkedBy(b *Block) (by string, one bool) {
	for _, k := range slices.Sorted(maps.Keys(at.how)) {
		if !strings.HasPrefix(k, b.key+"/") || at.how[k].how == model.AsKnown {
			continue
		}
		if one && at.how[k].by != by {
			return "", false
		}
		by, one = at.how[k].by, true
	}
	return by, one
}
