package store

// Seen is told how far long work is: n of all entries.
type Seen func(n, all int)

// everySeen is how many entries go by between two words of it.
const everySeen = 512

func (f Seen) at(n, all int) {
	if f != nil && n%everySeen == 0 {
		f(n, all)
	}
}

// Watch has somebody told how far Check and AppendAll are.
func (s *Store) Watch(f Seen) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.watched = f
}
