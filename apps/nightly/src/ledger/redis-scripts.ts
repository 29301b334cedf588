// Each runs as a whole: no other command comes between its lines, on whatever machine.

/** ARGV: prefix, seconds to keep, then key, state and JSON of each entry. Answers the keys that were new. */
export const OPEN_SCRIPT = `
local fresh = {}
for at = 3, #ARGV, 3 do
  local key, state, json = ARGV[at], ARGV[at + 1], ARGV[at + 2]
  local entry = ARGV[1] .. ':entry:' .. key
  if redis.call('HSETNX', entry, 'state', state) == 1 then
    redis.call('HSET', entry, 'json', json)
    redis.call('EXPIRE', entry, ARGV[2])
    redis.call('SADD', ARGV[1] .. ':' .. state, key)
    fresh[#fresh + 1] = key
  end
end
return fresh
`;

/** KEYS: entry. ARGV: prefix, seconds to keep, key, state, JSON. Answers 0 where it has been delivered already. */
export const UPDATE_SCRIPT = `
local before = redis.call('HGET', KEYS[1], 'state')
if before == 'delivered' then return 0 end
if before and before ~= ARGV[4] then redis.call('SREM', ARGV[1] .. ':' .. before, ARGV[3]) end
redis.call('HSET', KEYS[1], 'state', ARGV[4], 'json', ARGV[5])
redis.call('EXPIRE', KEYS[1], ARGV[2])
if ARGV[4] ~= 'delivered' then redis.call('SADD', ARGV[1] .. ':' .. ARGV[4], ARGV[3]) end
return 1
`;

/** KEYS: lock. ARGV: the token of who holds it. */
export const RELEASE_SCRIPT = `
if redis.call('GET', KEYS[1]) == ARGV[1] then return redis.call('DEL', KEYS[1]) end
return 0
`;
