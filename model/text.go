package model

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
)

// Text gives the full text of a procedure as one JSON record, and its content hash (SHA-256, hex).
// Equal procedures give equal bytes: keys stand in the order of the type, maps sorted. Where the
// file was read from is left out, so that moving it changes nothing.
func Text(p *Procedure) (hash string, data []byte) {
	q := *p
	q.File = ""
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(&q); err != nil {
		// Only a number that is not finite can fail here, and the loader lets none in.
		panic(fmt.Sprintf("model: procedure %s cannot be written: %v", p.ID, err))
	}
	data = bytes.TrimSuffix(b.Bytes(), []byte("\n"))
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]), data
}

// ReadText reads what Text wrote. Keys it does not know are passed over, so that a text stored by a
// newer program still walks.
func ReadText(data []byte) (*Procedure, error) {
	var p Procedure
	if err := json.Unmarshal(data, &p); err != nil {
		return nil, fmt.Errorf("stored procedure text cannot be read: %w", err)
	}
	if p.ID == "" {
		return nil, errors.New("stored procedure text has no id: it is not a procedure")
	}
	return &p, nil
}
