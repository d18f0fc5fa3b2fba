//go:build !linux

package store

import (
	"errors"
	"testing"

	"bench/oilcan/store/storetest"
)

func asUser(t *testing.T, _ int) { storetest.Lacks(t, "another user", errors.ErrUnsupported) }
