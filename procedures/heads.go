package procedures

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"sync"

	"bench/oilcan/model"
)

// headFile holds what a gauge needs of each built-in procedure, a line of JSON each, by id. It is
// made from the library by go test ./procedures -run Heads -update-heads, because reading all files
// of the library was a fifth of the time to the first frame.
//
//go:embed heads.jsonl
var headFile []byte

// builtInHeads reads the embedded heads the first time they are asked for.
var builtInHeads = sync.OnceValue(func() []*model.Procedure {
	var out []*model.Procedure
	for line := range bytes.Lines(headFile) {
		p := &model.Procedure{}
		if err := json.Unmarshal(line, p); err != nil {
			// a test holds it
			panic(fmt.Sprintf("procedures: heads.jsonl is not what its test wrote: %v", err))
		}
		out = append(out, p)
	}
	return out
})
