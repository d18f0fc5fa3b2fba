//go:build !linux

package store

import bolt "go.etcd.io/bbolt"

// dropPages leaves it to the system what of the file it holds.
func dropPages(*bolt.Tx) {}
