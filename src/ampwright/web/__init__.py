"""The local web app: accounts, jobs, revisions, pages. No engineering; see docs/web.md."""
