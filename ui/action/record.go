package action

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"bench/oilcan/model"
)

// Record is entries as the book writes them for programs, and the texts they name by their hash.
type Record struct {
	Entries []model.Entry // in the file's order
	Texts   map[string][]byte
	Bad     []LineError // lines that are none of the book; nothing is to be taken in then
}

// ReadRecord reads JSON lines of the book, an entry or a text each. What entries say is judged where
// they are written; a key there is none of would be lost, and is refused.
func ReadRecord(data []byte) Record {
	r := Record{Texts: map[string][]byte{}}
	n := 0
	for line := range bytes.Lines(bytes.TrimPrefix(data, []byte("\ufeff"))) {
		n++
		if line = bytes.TrimSpace(line); len(line) == 0 {
			continue
		}
		if err := r.line(line); err != nil {
			r.Bad = append(r.Bad, LineError{n, err})
		}
	}
	if n == 0 || len(r.Entries) == 0 && len(r.Bad) == 0 {
		r.Bad = append(r.Bad, LineError{max(n, 1), errors.New("no entry stands in it")})
	}
	return r
}

// line reads one line.
func (r *Record) line(data []byte) error {
	var head struct {
		V    int    `json:"v"`
		Kind string `json:"kind"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return errors.New("it is no JSON object as the book writes them: write the book anew")
	}
	if head.V < 1 || head.V > model.EntryVersion {
		return fmt.Errorf("it has format %d, and this oilcan knows 1 to %d: use the one that wrote it",
			head.V, model.EntryVersion)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if head.Kind == "text" {
		var t TextLine
		if err := d.Decode(&t); err != nil {
			return fmt.Errorf("it is no text as the book writes them (%w)", err)
		}
		r.Texts[t.Hash] = []byte(t.Text)
		return nil
	}
	var e EntryLine
	if err := d.Decode(&e); err != nil {
		return fmt.Errorf("it is no entry as the book writes them (%w)", err)
	}
	r.Entries = append(r.Entries, e.Entry)
	return nil
}

// EntryLine is an entry as programs read it; whether it is struck is told for them alone.
type EntryLine struct {
	model.Entry
	Struck bool `json:"struck,omitempty"`
}

// TextLine is a text that entries name by its hash: a procedure as it read in a session.
type TextLine struct {
	V    int    `json:"v"`
	Kind string `json:"kind"` // text
	Hash string `json:"hash"`
	Text string `json:"text"`
}
