package org.stopwell.harness.casework;

/**
 * An entry as it stands in a record.
 *
 * @param number its number, from 1
 * @param sha256 its hash, which covers every entry before it, hexadecimal
 * @param entry what was done
 */
public record RecordedEntry(int number, String sha256, CaseEntry entry) {}
