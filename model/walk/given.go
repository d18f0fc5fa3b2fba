package walk

import (
	"time"

	"bench/oilcan/model"
)

// given is what a session was begun with: the machine as it was, and the texts of all that may be
// walked.
type given struct {
	Begun model.Begun
	Start time.Time

	texts  map[string]*model.Procedure // by content hash
	setups []*model.Procedure

	// made once of these: asked at every step
	features model.FeatureSet
	opened   []string // plan.OpenedNames of the set-up actions
}

// Features is what the machine had when the session began: to read, not to change.
func (g *given) Features() model.FeatureSet { return g.features }
