package session

import (
	"time"

	"bench/oilcan/model/walk"
)

// Answer says a line that is meant, writes what follows and settles.
func (s *Session) Answer(text string, now time.Time) (walk.Reply, error) {
	v, err := s.Judge(Answer{Text: text, Meant: true}, now)
	if err != nil {
		return v.Reply, err
	}
	return s.Take(v.Reply, now)
}
