"""Between a typed question and its answer: each rule once, without words, mirrored by the page.

Commands and forms read fields, ask here, and show. `kb/words` says the answers; the page's
`assets/answers/` holds the same rules, and both are held together by vectors that start at the
typed text.
"""
