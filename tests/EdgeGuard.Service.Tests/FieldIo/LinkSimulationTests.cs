using CsCheck;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>
/// Random lives of one link: offers, polls, losses in the middle of anything, reconnects. After each step the wire is
/// checked against the rules; a failing seed is printed by the generator and repeats the life exactly.
/// </summary>
public sealed class LinkSimulationTests
{
    private const int Relay = 1;
    private const int StepsMax = 200;

    [Trait("requirement", "WRIT-2")]
    [Fact]
    public void In_any_life_of_a_link_removal_is_never_lost_and_energising_never_replayed()
    {
        Gen.Int[0, int.MaxValue - 1].Sample(static seed => new Life(seed).Run(), iter: 1_000);
    }

    private sealed class Life
    {
        private readonly Random _random;
        private readonly FakeLink _link = new();
        private readonly LinkEngine _engine;
        private readonly Dictionary<ushort, int> _epochOfOffer = [];
        private bool _removalOwed;
        private ushort _value;
        private int _epoch;
        private bool _healthy;
        private int _seen;

        public Life(int seed)
        {
            _random = new Random(seed);
            _engine = new LinkEngine(FieldTables.Link(), _link, new ManualClock());
            _link.Fault = OnWire;
            _link.StaysOpen = seed % 2 == 1; // half of the lives are those of a serial line
        }

        public void Run()
        {
            for (int i = 0; i < StepsMax; i++)
            {
                Step();
                CheckWire();
            }

            _healthy = true;
            Connect();
            _engine.PollAll();
            _engine.ServeDeEnergising();
            CheckWire();
            Assert.True(_engine.IsOnline);
            Assert.False(_removalOwed);
            _engine.ServeOneEnergising();
            Assert.NotEqual(CommandFeedback.Outstanding, _engine.Commands[Relay].Feedback);
        }

        private void Step()
        {
            switch (_random.Next(6))
            {
                case 0:
                    OfferEnergising();
                    break;
                case 1 when _random.Next(3) == 0:
                    _removalOwed = true;
                    Assert.True(_engine.Commands[Relay].Offer(0, twoWords: false, deEnergising: true));
                    break;
                case 2:
                    _engine.PollAll();
                    break;
                case 3:
                    _engine.ServeOneEnergising();
                    break;
                case 4:
                    _engine.ServeDeEnergising();
                    break;
                default:
                    Connect();
                    break;
            }
        }

        private void OfferEnergising()
        {
            _value++;
            bool taken = _engine.Commands[Relay].Offer(_value, twoWords: false, deEnergising: false);
            Assert.Equal(!_removalOwed, taken);
            _epochOfOffer[_value] = _engine.IsOnline ? _epoch : -1;
        }

        private void Connect()
        {
            if (_engine.IsOnline)
            {
                return;
            }

            _epoch++;
            _link.Refusing = !_healthy && _random.Next(4) == 0;
            try
            {
                _engine.ConnectAndProve();
            }
            catch (Exception e) when (e is LinkFailedException or System.Net.Sockets.SocketException)
            {
                Assert.False(_engine.IsOnline);
            }
        }

        // Runs inside the transaction: what is on the wire now, and whether it survives.
        private ModbusResult? OnWire(string line)
        {
            ModbusResult? fault = _healthy || _random.Next(10) > 0 ? null : new ModbusResult(_random.Next(2) == 0 ? ModbusOutcome.Timeout : ModbusOutcome.ConnectionLost);
            if (!line.StartsWith("write 1:1=", StringComparison.Ordinal))
            {
                return fault;
            }

            ushort value = ushort.Parse(line.AsSpan("write 1:1=".Length), System.Globalization.CultureInfo.InvariantCulture);
            if (value == 0)
            {
                _removalOwed &= fault is not null;
            }
            else
            {
                Assert.False(_removalOwed, $"{line} went out while a removal was owed");
                Assert.Equal(_epoch, _epochOfOffer[value]);
                Assert.True(_epochOfOffer.Remove(value), $"{line} was sent twice");
            }

            return fault;
        }

        private void CheckWire()
        {
            string[] log = _link.Log;
            for (; _seen < log.Length; _seen++)
            {
                bool firstAfterConnect = _seen > 0 && log[_seen - 1] == "connect";
                Assert.False(firstAfterConnect && log[_seen].StartsWith("write 1:1=", StringComparison.Ordinal) && !log[_seen].EndsWith("=0", StringComparison.Ordinal), "an energising write opened a connection");
            }
        }
    }
}
