"""Fixes: candidates for edits that might cure a finding."""
