package command

import (
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
)

const shortLen = 6

// short is the short form of an entry's id: its last six characters.
func short(id string) string {
	if len(id) <= shortLen {
		return strings.ToLower(id)
	}
	return strings.ToLower(id[len(id)-shortLen:])
}

// leastID is how many characters of an entry's id must be typed.
const leastID = 4

// endsWith tells whether an id is meant by a word: all of it, or its end.
func endsWith(id, word string) bool {
	word = strings.ToLower(strings.TrimSpace(word))
	return len(word) >= leastID && strings.HasSuffix(strings.ToLower(id), word)
}

// names calls procedures and symptoms in sentences.
func names(a *app) action.Names {
	return action.Names{Procs: a.heads(), Symptoms: procedures.Symptoms(),
		Currency: a.cfg.Currency}
}

// spoken says entries in words, by entry id. All entries of the journal are needed.
func spoken(a *app, entries []model.Entry) map[string]string {
	out := make(map[string]string, len(entries))
	for _, l := range book.Lines(entries, names(a), a.now()) {
		out[l.Entry.ID] = l.Text
	}
	return out
}

// findEntry finds an entry by its id or the end of it.
func findEntry(st *store.Store, word string) (model.Entry, error) {
	var found []model.Entry
	if word = strings.TrimSpace(word); len(word) >= leastID {
		var err error
		if found, err = st.Ending(word); err != nil {
			return model.Entry{}, unusable(err)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return model.Entry{}, misuse("there is no entry %q: oilcan book shows the ids", word)
	}
	var ids []string
	for _, e := range found {
		ids = append(ids, strings.ToLower(e.ID))
	}
	return model.Entry{}, misuse("%q may be %s: type more of the id", word,
		strings.Join(ids, " or "))
}
