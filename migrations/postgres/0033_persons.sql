-- "follows" also says who made a token: the one that its maker's goes back to, so that nobody is a second person to themselves. Until
-- now every token was made with one that goes back to the first.
UPDATE tokens SET follows = (
    SELECT substr(subject, 8) FROM audit WHERE action = 'create-token' AND actor = 'system' ORDER BY number LIMIT 1
)
WHERE role = 'publisher' AND 'tokens/' || id <> (
    SELECT subject FROM audit WHERE action = 'create-token' AND actor = 'system' ORDER BY number LIMIT 1
);
